// Says when the books have changed behind a page that shows them. It never
// reloads by itself: somebody may be typing.
export function followEvents() {
  const note = document.querySelector("[data-watch]");
  if (!note || !window.EventSource) return;
  const stream = new EventSource("/api/v1/events");
  const kinds = note.dataset.watch.split(" ");
  stream.addEventListener("open", () => { note.dataset.watching = "yes"; });
  let waiting = 0;
  const changed = () => {
    clearTimeout(waiting);
    waiting = setTimeout(() => { note.hidden = false; }, 300);
  };
  stream.addEventListener("change", (event) => {
    if (kinds.includes(JSON.parse(event.data).kind)) changed();
  });
  addEventListener("pagehide", () => stream.close());
}
