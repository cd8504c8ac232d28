// Takes the focus to the list of faults, so that it is the first thing read after a refused form.
export function start(summary) {
  summary.focus();
}
