// What is written in one [data-answer] element, as it is sent to the server.

const READERS = {
  text: (element) => element.querySelector("input:not([type=hidden]), textarea, select")?.value ?? "",

  spots: (element) => READERS.text(element),

  choice: (element) => {
    const select = element.querySelector("select");
    return select ? select.value : (element.querySelector("input:checked")?.value ?? "");
  },

  choices: (element) => [...element.querySelectorAll("input:checked")].map((box) => box.value),

  order: byKey,

  placement: byKey,
};

function byKey(element) {
  const controls = [...element.querySelectorAll("[data-key]")];
  return Object.fromEntries(controls.map((control) => [control.dataset.key, control.value]));
}

// Puts an answer into the controls and tells the page's scripts, as if it had been typed.
export function putAnswer(element, answer) {
  for (const control of element.querySelectorAll("input:not([type=hidden]), textarea, select")) {
    if (["radio", "checkbox"].includes(control.type)) control.checked = [answer].flat().includes(control.value);
    else control.value = control.dataset.key ? (answer[control.dataset.key] ?? "") : answer;
    control.dispatchEvent(new Event("input", { bubbles: true }));
  }
  element.dispatchEvent(new Event("change", { bubbles: true }));
}

export function answerOf(element) {
  return READERS[element.dataset.answerKind ?? "text"](element);
}
