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

export function answerOf(element) {
  return READERS[element.dataset.answerKind ?? "text"](element);
}
