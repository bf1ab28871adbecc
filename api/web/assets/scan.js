// A scanner types a code and Enter. In the field for many ids that makes a line,
// and does not send the form; its button says how many there are.
export function scanning() {
  for (const area of document.querySelectorAll('textarea[name="ids"]')) {
    const button = area.form.querySelector("button");
    const words = button.textContent;
    const count = () => {
      const ids = new Set(area.value.split(/[\n\r,]/).map((id) => id.trim()).filter(Boolean));
      button.textContent = ids.size ? `${words} ${ids.size}` : words;
    };
    area.addEventListener("input", count);
    area.addEventListener("keydown", (event) => {
      if (event.key === "Enter" && event.ctrlKey) area.form.requestSubmit();
    });
    count();
  }
}
