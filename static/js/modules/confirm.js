// Asks before a form that destroys something is sent. On the form:
//   data-confirm-title   the question           data-confirm-text   what will be lost
//   data-confirm-label   the button's word, "Delete the class"
export function start(form) {
  const dialog = document.createElement("dialog");
  const title = element("h2", form.dataset.confirmTitle ?? "Are you sure?");
  title.id = `confirm-${Math.random().toString(36).slice(2)}`;
  dialog.setAttribute("aria-labelledby", title.id);

  const buttons = element("div", "", "buttons");
  const keep = element("button", "Keep it", "button");
  const go = element("button", form.dataset.confirmLabel ?? "Go on", "button danger");
  keep.type = go.type = "button";
  buttons.append(keep, go);
  dialog.append(title, element("p", form.dataset.confirmText ?? ""), buttons);
  document.body.append(dialog);

  let confirmed = false;
  let submitter = null;
  form.addEventListener("submit", (event) => {
    if (confirmed) return;
    event.preventDefault();
    submitter = event.submitter;
    dialog.showModal();
    keep.focus();
  });
  keep.addEventListener("click", () => dialog.close());
  go.addEventListener("click", () => {
    confirmed = true;
    dialog.close();
    form.requestSubmit(submitter);
    confirmed = false;
  });
}

function element(name, text, className = "") {
  const made = document.createElement(name);
  made.textContent = text;
  if (className) made.className = className;
  return made;
}
