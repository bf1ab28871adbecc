// Shows how a planning run goes on, and the plan when it is there.
export function followRun() {
  const place = document.querySelector("[data-run]");
  if (!place) return;
  const bar = place.querySelector("progress");
  const text = place.querySelector("[data-run-text]");
  const ask = async () => {
    const answer = await fetch(place.dataset.run, { headers: { Accept: "application/json" } });
    if (!answer.ok) return;
    const run = await answer.json();
    bar.max = run.effort || 1;
    bar.value = run.iteration;
    text.textContent = run.text;
    if (run.ended) location.assign(run.then);
    else if (!run.failed) setTimeout(ask, 500);
  };
  ask();
}
