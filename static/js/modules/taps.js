// Saves each tap of a level without leaving the page.
//
//   element             data-save-url, data-outbox (the name under which waiting taps are kept)
//   form.tap            data-tap="student skill"; its buttons `level`, and the entries `note` and `done_on`
//   [data-tap-state]    says what stands or waits          [data-outbox-state]   says how things stand on the whole

import { Outbox, STATE_WORDS } from "../outbox.js";

export function start(element) {
  const state = document.querySelector("[data-outbox-state]");
  for (const form of element.querySelectorAll("[data-tap]")) {
    form.dataset.tapStands = form.querySelector('.tap-levels [aria-pressed="true"]')?.value ?? "";
  }
  const outbox = new Outbox({
    name: element.dataset.outbox,
    url: () => element.dataset.saveUrl,
    token: () => element.querySelector("[name=csrf_token]").value,
    onSaved: (message, reply) => show(element, message, reply.level, reply.words),
    onRefused: (message, text) => show(element, message, undefined, text),
    onState: (now) => {
      state.dataset.outboxState = now;
      state.textContent = STATE_WORDS[now];
    },
  });
  for (const message of outbox.waiting) showWaiting(element, message);
  element.addEventListener("submit", (event) => {
    const form = event.target;
    if (!event.submitter?.value) return;
    event.preventDefault();
    const message = { student: form.elements.student.value, skill: form.elements.skill.value, level: event.submitter.value };
    const note = form.elements.note.value;
    if (message.level === "undone" || note !== form.elements.note.defaultValue) message.note = message.level === "undone" ? "" : note;
    if (form.elements.done_on.value) message.done_on = form.elements.done_on.value;
    showWaiting(element, message);
    outbox.send(message);
  });
}

function formOf(element, message) {
  return element.querySelector(`[data-tap="${CSS.escape(`${message.student} ${message.skill}`)}"]`);
}

function showWaiting(element, message) {
  const form = formOf(element, message);
  if (!form) return;
  press(form, message.level);
  form.querySelector("[data-tap-state]").textContent = "saving…";
}

function show(element, message, level, words) {
  const form = formOf(element, message);
  if (!form) return;
  form.toggleAttribute("data-tap-failing", level === undefined);
  if (level === undefined) press(form, form.dataset.tapStands);
  else {
    form.dataset.tapStands = level ?? "";
    press(form, level);
    if (message.note !== undefined) {
      form.elements.note.defaultValue = message.note;
      form.elements.note.value = message.note;
    }
  }
  form.querySelector("[data-tap-state]").textContent = words;
}

function press(form, level) {
  for (const button of form.querySelectorAll(".tap-levels button")) {
    button.setAttribute("aria-pressed", String(button.value === level));
  }
}
