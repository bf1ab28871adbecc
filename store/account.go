package store

import (
	"context"
	"encoding/json"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"gorm.io/gorm"

	"blankwright/scheduler/strict"
)

// An Account is a person who may sign in. What its roles allow, and how its
// password is hashed, is told in api/access; the books keep it.
type Account struct {
	Name       string // unique in any case of its letters
	Roles      []string
	Hash       string    // of the password
	PasswordAt time.Time // when the password was set: older sessions are void
	Disabled   bool
	MadeAt     time.Time
	Rev        int64
}

// RoleAdmin is the role that the books know of: one account that has it and is
// not disabled must always be there, once there is any account.
const RoleAdmin = "admin"

type accountRow struct {
	Key        string `gorm:"primaryKey"`
	Name       string
	Roles      string
	Hash       string
	PasswordAt int64
	Disabled   bool
	MadeAt     int64
	Rev        int64
}

func (accountRow) TableName() string { return "accounts" }

func (r accountRow) account() Account {
	return Account{
		Name: r.Name, Roles: listOf(r.Roles), Hash: r.Hash, PasswordAt: instant(r.PasswordAt),
		Disabled: r.Disabled, MadeAt: instant(r.MadeAt), Rev: r.Rev,
	}
}

// onTrail is what the trail tells of an account: nothing of its password.
func (r accountRow) onTrail() any {
	return struct {
		Name       string    `json:"name"`
		Roles      []string  `json:"roles"`
		PasswordAt time.Time `json:"password_at"`
		Disabled   bool      `json:"disabled"`
	}{r.Name, listOf(r.Roles), instant(r.PasswordAt), r.Disabled}
}

// Accounts returns all accounts by name.
func (b *Books) Accounts(ctx context.Context) ([]Account, error) {
	var rows []accountRow
	err := b.read(ctx, func(tx *gorm.DB) error { return tx.Order("key").Find(&rows).Error })
	accounts := make([]Account, len(rows))
	for i, r := range rows {
		accounts[i] = r.account()
	}
	return accounts, doing(err, "accounts")
}

// Account returns the account of a name.
func (b *Books) Account(ctx context.Context, name string) (*Account, error) {
	var row accountRow
	err := b.read(ctx, func(tx *gorm.DB) (err error) {
		row, err = accountOf(tx, name)
		return err
	})
	if err != nil {
		return nil, doing(err, "account")
	}
	account := row.account()
	return &account, nil
}

// AddAccount adds an account of a Name, Roles and a Hash.
func (b *Books) AddAccount(ctx context.Context, a Account) (*Account, error) {
	return b.addAccount(ctx, a, false)
}

// AddFirstAccount does the same while there is no account, and is refused
// after.
func (b *Books) AddFirstAccount(ctx context.Context, a Account) (*Account, error) {
	return b.addAccount(ctx, a, true)
}

func (b *Books) addAccount(ctx context.Context, a Account, first bool) (*Account, error) {
	if problems := checkAccount(a); len(problems) > 0 {
		return nil, problems
	}
	var row accountRow
	err := b.write(ctx, func(tx *gorm.DB) error {
		if err := free(tx, a.Name, first); err != nil {
			return err
		}
		row = accountRow{
			Key: accountKey(a.Name), Name: a.Name, Roles: listText(a.Roles), Hash: a.Hash,
			PasswordAt: millis(tx), MadeAt: millis(tx), Rev: 1,
		}
		if err := tx.Create(&row).Error; err != nil {
			return err
		}
		return trail(tx, "account", row.Key, "added", nil, row.onTrail())
	})
	if err != nil {
		return nil, doing(err, "add account")
	}
	account := row.account()
	return &account, nil
}

// free refuses an account whose name is taken, or a first one that is not.
func free(tx *gorm.DB, name string, first bool) error {
	var same, all int64
	if err := tx.Model(&accountRow{}).Count(&all).Error; err != nil {
		return err
	}
	if first && all > 0 {
		return conflict("there is an account already: an admin adds others")
	}
	if err := tx.Model(&accountRow{}).Where("key = ?", accountKey(name)).Count(&same).Error; err != nil {
		return err
	}
	if same > 0 {
		return conflict("there is an account %q already", name)
	}
	return nil
}

// An AccountChange says what becomes of an account; what is nil stays.
type AccountChange struct {
	Roles    *[]string
	Hash     *string
	Disabled *bool
}

// ChangeAccount changes the account that the caller saw at a revision.
func (b *Books) ChangeAccount(ctx context.Context, name string, rev int64, c AccountChange) (*Account, error) {
	var row accountRow
	err := b.write(ctx, func(tx *gorm.DB) (err error) {
		if row, err = accountOf(tx, name); err != nil {
			return err
		}
		if err := checkRev("account", row.Name, rev, row.Rev); err != nil {
			return err
		}
		before := row.onTrail()
		c.apply(tx, &row)
		if problems := checkAccount(row.account()); len(problems) > 0 {
			return problems
		}
		if err := tx.Save(&row).Error; err != nil {
			return err
		}
		if err := someAdmin(tx); err != nil {
			return err
		}
		return trail(tx, "account", row.Key, "changed", before, row.onTrail())
	})
	if err != nil {
		return nil, doing(err, "change account")
	}
	account := row.account()
	return &account, nil
}

func (c AccountChange) apply(tx *gorm.DB, row *accountRow) {
	if c.Roles != nil {
		row.Roles = listText(*c.Roles)
	}
	if c.Hash != nil {
		row.Hash = *c.Hash
		row.PasswordAt = millis(tx)
	}
	if c.Disabled != nil {
		row.Disabled = *c.Disabled
	}
	row.Rev++
}

// RemoveAccount removes the account that the caller saw at a revision. What it
// did stays on the trail.
func (b *Books) RemoveAccount(ctx context.Context, name string, rev int64) error {
	return doing(b.write(ctx, func(tx *gorm.DB) error {
		row, err := accountOf(tx, name)
		if err != nil {
			return err
		}
		if err := checkRev("account", row.Name, rev, row.Rev); err != nil {
			return err
		}
		if err := tx.Delete(&row).Error; err != nil {
			return err
		}
		if err := someAdmin(tx); err != nil {
			return err
		}
		return trail(tx, "account", row.Key, "removed", row.onTrail(), nil)
	}), "remove account")
}

// someAdmin refuses a change after which nobody could add an account.
func someAdmin(tx *gorm.DB) error {
	var rows []accountRow
	if err := tx.Where("disabled = 0").Find(&rows).Error; err != nil {
		return err
	}
	if !slices.ContainsFunc(rows, func(r accountRow) bool { return slices.Contains(listOf(r.Roles), RoleAdmin) }) {
		return conflict("this is the last account that is an admin: make another one first")
	}
	return nil
}

func accountOf(tx *gorm.DB, name string) (accountRow, error) {
	var row accountRow
	err := tx.Where("key = ?", accountKey(name)).Take(&row).Error
	if missing(err) {
		return row, notFound("account", name)
	}
	return row, err
}

func accountKey(name string) string { return strings.ToLower(name) }

// notNames are those that the trail has for who is no account; the names of
// tokens stand there after "token ".
func notNames() []string { return []string{System, "command line", "demo"} }

func checkAccount(a Account) strict.Problems {
	problems := checkName("name", a.Name)
	if key := accountKey(a.Name); slices.Contains(notNames(), key) || strings.HasPrefix(key, "token ") {
		problems = append(problems, strict.Problem{Path: "name", Message: "is what the trail calls what is no account"})
	}
	return append(problems, checkRoles(a.Roles)...)
}

// mostName is how long a name may be.
const mostName = 60

// checkName judges the name of an account or a token: letters of any script,
// digits, and what stands between them.
func checkName(path, name string) strict.Problems {
	bad := func(message string) strict.Problems { return strict.Problems{{Path: path, Message: message}} }
	fits := func(r rune) bool {
		return unicode.IsLetter(r) || unicode.IsMark(r) || unicode.IsDigit(r) || strings.ContainsRune(" ._-'@", r)
	}
	switch {
	case name == "":
		return bad("is empty")
	case utf8.RuneCountInString(name) > mostName:
		return bad("is too long: 60 characters at most")
	case strings.TrimSpace(name) != name:
		return bad("begins or ends with a space")
	case strings.ContainsFunc(name, func(r rune) bool { return !fits(r) }):
		return bad("may have letters, digits, spaces and . _ - ' @")
	}
	return nil
}

func checkRoles(roles []string) strict.Problems {
	if len(roles) == 0 {
		return strict.Problems{{Path: "roles", Message: "has 0 entries, but must have at least 1"}}
	}
	return nil
}

func listText(list []string) string {
	list = slices.Clone(list)
	slices.Sort(list)
	text, _ := json.Marshal(slices.Compact(list)) // texts always can
	return string(text)
}

func listOf(text string) []string {
	var list []string
	_ = json.Unmarshal([]byte(text), &list) // listText wrote it
	return list
}
