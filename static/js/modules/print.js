// A button that prints the page.
export function start(button) {
  button.hidden = false;
  button.addEventListener("click", () => window.print());
}
