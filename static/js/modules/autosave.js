// Saves each answer of a form while it is being worked.
//
//   form              data-save-url, and the hidden field csrf_token
//   [data-answer]     holds one task's controls; data-answer-kind: text | spots | choice | choices | order | placement
//   [data-save-state] says how things stand      [data-problem-for]  says why an answer can't be read
//
// Sent:  POST {"task": id, "answer": value, "page": name, "revision": n}. What a closing page sends may arrive out of
//        order: of the same page the server keeps the greater revision. The name is made here, beside the count that
//        it qualifies, so that a page which a browser shows again from its memory never counts from 1 under a used name.
// What the server has not taken yet is kept in the browser as well (drafts.js), under the person of <body data-person>:
// a page that is opened again puts it back and sends it. It stays also when saving has ended, as after a sign-out.
// Reply: {"saved": true, "problem": null | text}; a refusal (4xx) has {"message": text} and ends the saving.

import { Drafts } from "../drafts.js";
import { isRefusal, randomName } from "../sending.js";
import { answerOf, putAnswer } from "./answer-value.js";
import { follow } from "./error-summary.js";

const PAUSE_MS = 600;
const LONGEST_PAUSE_MS = 1500; // who types without a stop is saved meanwhile
const FIRST_RETRY_MS = 1000;
const LAST_RETRY_MS = 30_000;
const SUBMIT_WAIT_MS = 4000;

const SAVING = "Saving…";
const SAVED = "Saved";
const TRY_AGAIN = "Not saved yet – will try again";
const ELSEWHERE = "This was changed on another device. Here you had typed, before the connection was lost:";
const REFUSED = "Not saved. Reload the page and try again.";

export function start(form) {
  const saver = new Saver(form);
  const taskOf = (event) => event.target.closest?.("[data-answer]");
  form.addEventListener("input", (event) => taskOf(event) && saver.changed(taskOf(event), PAUSE_MS));
  form.addEventListener("change", (event) => taskOf(event) && saver.changed(taskOf(event), 0));
  form.addEventListener("focusout", () => saver.hurry());
  form.addEventListener("submit", (event) => saver.beforeSubmit(event), { capture: true });
  document.addEventListener("visibilitychange", () => (document.hidden ? saver.sendAllNow() : saver.hurry()));
  window.addEventListener("pagehide", () => saver.sendAllNow());
  window.addEventListener("online", () => saver.hurry());
  window.addEventListener("beforeunload", (event) => saver.wouldLose() && event.preventDefault());
  const early = [...form.querySelectorAll("[data-answer]")].filter(isTouched);
  saver.bringBack();
  for (const element of early) saver.changed(element, 0);
}

// Whether something was typed or chosen while this script was still on its way.
function isTouched(element) {
  return [...element.querySelectorAll("input, select, textarea")].some((control) => {
    if (["checkbox", "radio"].includes(control.type)) return control.checked !== control.defaultChecked;
    if (control.options) return control.selectedIndex > 0 && !control.options[control.selectedIndex].defaultSelected;
    return control.value !== control.defaultValue;
  });
}

class Saver {
  constructor(form) {
    this.form = form;
    this.page = randomName();
    this.revision = 0;
    this.waiting = new Map(); // task -> {answer, revision}: the newest that the server has not taken yet
    this.taken = new Map(); // task -> the answer that it took last
    this.shown = new Map(); // task -> the answer that it had when it made the page
    this.drafts = new Drafts(document.body.dataset.person ?? "", form.dataset.saveUrl.split("?")[0]);
    this.unsentSince = null;
    this.inFlight = new Set(); // the entries of waiting that have been sent and not answered
    this.timer = null;
    this.retryMs = FIRST_RETRY_MS;
    this.failing = false;
    this.stopped = false;
    this.submit = "idle"; // then "waiting" for the saves to land, then "going"
    for (const element of form.querySelectorAll("[data-answer]")) this.shown.set(element.dataset.answer, answerOf(element));
  }

  // A draft goes on where the server's answer is still the one that it was typed over. Where another device has
  // saved since, both are the student's: the other stands, and this one is told.
  bringBack() {
    for (const [task, draft] of Object.entries(this.drafts.all())) {
      const element = [...this.form.querySelectorAll("[data-answer]")].find((one) => one.dataset.answer === task);
      if (!element || same(draft.answer, this.shown.get(task))) this.drafts.forget(task);
      else if (same(draft.from, this.shown.get(task))) putAnswer(element, draft.answer);
      else this.showProblem(task, `${ELSEWHERE} ${inWords(draft.answer)}`);
    }
  }

  changed(element, pauseMs) {
    if (this.submit === "going") this.submit = "idle"; // the form was kept back after all
    const task = element.dataset.answer;
    const answer = answerOf(element);
    const atServer = this.taken.get(task) ?? this.shown.get(task);
    if (same(atServer, answer) && !this.waiting.has(task)) this.drafts.forget(task);
    else this.drafts.keep(task, answer, atServer);
    if (this.stopped) return;
    const known = this.waiting.has(task) ? this.waiting.get(task).answer : this.taken.get(task);
    if (!same(known, answer)) {
      this.revision += 1;
      this.waiting.set(task, { answer, revision: this.revision });
      this.say(SAVING, "saving");
    }
    if (this.waiting.size === 0) return;
    this.unsentSince ??= Date.now();
    this.wake(Math.min(pauseMs, Math.max(0, this.unsentSince + LONGEST_PAUSE_MS - Date.now())));
  }

  hurry() {
    if (this.waiting.size > 0) this.wake(0);
  }

  wake(delayMs) {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.sendNext(), delayMs);
  }

  // One request at a time while the page is open, so that answers reach the server in order.
  sendNext() {
    if (this.inFlight.size > 0 || this.stopped || this.waiting.size === 0) return;
    const [first] = this.waiting;
    this.send(...first);
  }

  // The page is going away: there is no time to wait for one reply before the next request.
  sendAllNow() {
    if (this.stopped) return;
    clearTimeout(this.timer);
    for (const [task, entry] of [...this.waiting]) {
      if (!this.inFlight.has(entry)) this.send(task, entry);
    }
  }

  async send(task, entry) {
    this.inFlight.add(entry);
    this.unsentSince = null;
    try {
      const response = await fetch(this.form.dataset.saveUrl, {
        method: "POST",
        keepalive: true,
        headers: {
          "Content-Type": "application/json",
          Accept: "application/json",
          "X-CSRF-Token": this.form.elements.csrf_token.value,
        },
        body: JSON.stringify({ task, page: this.page, ...entry }),
      });
      const reply = await response.json().catch(() => ({}));
      if (response.ok && reply.saved === true) this.succeed(task, entry, reply.problem ?? "");
      else if (isRefusal(response)) this.stop(reply.message ?? REFUSED);
      else this.fail();
    } catch {
      this.fail();
    }
    this.inFlight.delete(entry);
    if (this.stopped || this.inFlight.size > 0 || this.waiting.size === 0) return;
    this.wake(this.failing ? this.nextRetry() : 0);
  }

  succeed(task, entry, problem) {
    this.failing = false;
    this.retryMs = FIRST_RETRY_MS;
    this.taken.set(task, entry.answer);
    if (this.waiting.get(task) === entry) {
      this.waiting.delete(task);
      this.drafts.forget(task);
      this.showProblem(task, problem);
    }
    if (this.waiting.size === 0) this.say(SAVED, "saved");
  }

  fail() {
    this.failing = true;
    this.say(TRY_AGAIN, "failing");
  }

  stop(message) {
    this.stopped = true;
    clearTimeout(this.timer);
    this.say(message, "stopped");
  }

  nextRetry() {
    const delay = this.retryMs;
    this.retryMs = Math.min(2 * delay, LAST_RETRY_MS);
    return delay;
  }

  wouldLose() {
    return (this.failing || this.stopped) && this.waiting.size > 0 && this.submit === "idle";
  }

  // The marks must be made from what is on the screen: the saves land first, then the form goes.
  async beforeSubmit(event) {
    const settled = () => this.stopped || (this.waiting.size === 0 && this.inFlight.size === 0);
    if (this.submit === "idle" && settled()) this.submit = "going"; // the form takes along what was not saved
    if (this.submit === "going") return;
    event.preventDefault();
    event.stopImmediatePropagation();
    if (this.submit === "waiting") return;

    this.submit = "waiting";
    this.hurry();
    const until = Date.now() + SUBMIT_WAIT_MS;
    while (!settled() && Date.now() < until) await new Promise((resolve) => setTimeout(resolve, 50));
    this.submit = "going";
    this.form.requestSubmit(event.submitter);
  }

  say(text, state) {
    const holder = this.form.querySelector("[data-save-state]");
    if (!holder) return;
    holder.dataset.saveState = state;
    if (holder.textContent !== text) holder.textContent = text;
  }

  showProblem(task, text) {
    const holders = this.form.querySelectorAll("[data-problem-for]");
    const holder = [...holders].find((one) => one.dataset.problemFor === task);
    if (!holder) return;
    holder.textContent = text;
    holder.hidden = text === "";
    follow(holder.closest("[data-answer]"), text);
  }
}

function same(one, other) {
  return JSON.stringify(one) === JSON.stringify(other);
}

function inWords(answer) {
  if (typeof answer === "string") return answer;
  return Array.isArray(answer) ? answer.join(", ") : Object.entries(answer).map((pair) => pair.join(" ")).join(", ");
}
