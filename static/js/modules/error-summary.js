// Takes the focus to the list of faults, so that it is the first thing read after a refused form.
export function start(summary) {
  summary.focus();
}

const ALL_MENDED = "All of this can be read now";

// The list follows an answer that is mended, or mistyped again, while it is on the screen. Its lines stay where they
// are: a line that went would move what is being typed below it.
export function follow(answer, problem) {
  const lines = [...document.querySelectorAll(".error-summary a")];
  const line = lines.find((one) => answer.contains(document.getElementById(one.hash.slice(1))));
  const name = answer.closest(".question")?.querySelector("h3");
  if (!line || !name) return;
  const title = name.textContent.trim().replace(/\s+/g, " ");
  line.textContent = problem ? `${title}: ${problem}` : `✓ ${title}: can be read now`;
  line.dataset.mended = problem === "" ? "yes" : "no";
  const head = line.closest(".error-summary").querySelector("h2");
  head.dataset.first ??= head.textContent;
  head.textContent = lines.every((one) => one.dataset.mended === "yes") ? ALL_MENDED : head.dataset.first;
}
