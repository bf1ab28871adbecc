// What is nicer with script: every page and form works without.
import { followRun } from "./run.js";
import { followEvents } from "./events.js";
import { scanning } from "./scan.js";

for (const form of document.querySelectorAll("form")) {
  // A second touch of a button must not send the same thing twice.
  form.addEventListener("submit", () => setTimeout(() => {
    for (const button of form.querySelectorAll("button")) button.disabled = true;
  }));
}
addEventListener("pageshow", () => {
  for (const button of document.querySelectorAll("button:disabled")) button.disabled = false;
});
for (const button of document.querySelectorAll("[data-copy]")) {
  button.hidden = !navigator.clipboard;
  button.addEventListener("click", async () => {
    await navigator.clipboard.writeText(document.getElementById(button.dataset.copy).textContent);
    button.textContent = "Copied";
  });
}
for (const button of document.querySelectorAll("[data-print]")) {
  button.hidden = false;
  button.addEventListener("click", () => print());
}
followRun();
followEvents();
scanning();
