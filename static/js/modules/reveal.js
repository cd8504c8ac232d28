// "Show what I type" under a pass phrase, for fingers that can't see their own mistakes.
export function start(input) {
  const id = `${input.id}-reveal`;
  const row = document.createElement("div");
  row.className = "choice";
  const tick = document.createElement("input");
  tick.type = "checkbox";
  tick.id = id;
  const label = document.createElement("label");
  label.htmlFor = id;
  label.textContent = "Show what I type";
  row.append(tick, label);
  input.after(row);

  const update = () => {
    input.type = tick.checked ? "text" : "password";
  };
  tick.addEventListener("change", update);
  // A browser offers to remember the phrase only when the field is a password again as the form is sent.
  input.form?.addEventListener("submit", () => {
    tick.checked = false;
    update();
  });
}
