// A scanner types a code and Enter. In a field for many ids that makes a line,
// and does not send the form.
export function scanning() {
  for (const area of document.querySelectorAll("textarea[data-scan]")) {
    area.addEventListener("keydown", (event) => {
      if (event.key === "Enter" && event.ctrlKey) area.form.requestSubmit();
    });
  }
}
