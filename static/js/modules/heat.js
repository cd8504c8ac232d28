// Times a heat: each press is stamped with this page's own clock, shown at once, and sent until the server has it.
//
//   element             data-save-url, data-outbox
//   [data-heat-part]    what the server draws anew after each press: data-elapsed-ms since the start by its clock, and
//                       data-running from the start until every team is stopped
//   [data-heat-clock]   the time since the start       [data-heat-total]   a team's, with data-stopped once it stands
//
// The running figures are only to look at; times are made by the server from the stamps.

import { shown } from "../heat-time.js";
import { Outbox, STATE_WORDS } from "../outbox.js";
import { randomName } from "../sending.js";

const TICK_MS = 100;

export function start(element) {
  new Timing(element);
}

class Timing {
  constructor(element) {
    this.element = element;
    this.page = randomName();
    this.startedAt = null;
    this.state = document.querySelector("[data-outbox-state]");
    this.outbox = new Outbox({
      name: element.dataset.outbox,
      url: () => element.dataset.saveUrl,
      token: () => element.querySelector("[name=csrf_token]").value,
      onSaved: () => this.outbox.waiting.length <= 1 && this.drawAnew(),
      onRefused: (message, text) => this.refuse(text),
      onState: (state) => this.say(state),
    });
    this.takeClock();
    element.addEventListener("submit", (event) => this.press(event));
    setInterval(() => this.tick(), TICK_MS);
  }

  press(event) {
    const now = performance.now();
    event.preventDefault();
    const entries = new FormData(event.target);
    const message = { act: entries.get("act"), page: this.page, page_ms: now };
    for (const name of ["team", "undoes", "reason"]) if (entries.get(name)) message[name] = entries.get(name);
    if (message.act === "penalty") message.penalty_s = Number(entries.get("penalty_s").trim().replace(",", ".") || NaN);
    if (message.act === "start") this.startedAt = now;
    this.showPressed(event.target, message.act);
    this.refused = "";
    this.outbox.send(message);
  }

  showPressed(form, act) {
    if (act === "stop") {
      const total = form.closest(".heat-team").querySelector("[data-heat-total]");
      total.dataset.stopped = "";
      total.textContent = shown(performance.now() - this.startedAt);
    }
    for (const button of form.querySelectorAll("button")) button.disabled = act !== "lap";
  }

  async drawAnew() {
    try {
      const response = await fetch(location.href, { headers: { Accept: "text/html" } });
      const fresh = new DOMParser().parseFromString(await response.text(), "text/html").querySelector("[data-heat-part]");
      if (!fresh || this.outbox.waiting.length > 1) return;
      const focused = this.element.contains(document.activeElement) ? document.activeElement.getAttribute("aria-label") : null;
      this.element.querySelector("[data-heat-part]").replaceWith(fresh);
      if (focused) this.element.querySelector(`[aria-label="${CSS.escape(focused)}"]`)?.focus();
      this.takeClock();
    } catch {
      // The press is saved; the page catches up with the next one.
    }
  }

  // From the server's clock, unless this page has started the heat itself.
  takeClock() {
    const part = this.element.querySelector("[data-heat-part]");
    if (!("running" in part.dataset)) this.startedAt = null;
    else this.startedAt ??= performance.now() - Number(part.dataset.elapsedMs);
  }

  tick() {
    if (this.startedAt === null) return;
    const words = shown(performance.now() - this.startedAt);
    this.element.querySelector("[data-heat-clock]").textContent = words;
    for (const total of this.element.querySelectorAll("[data-heat-total]:not([data-stopped])")) total.textContent = words;
  }

  refuse(text) {
    this.refused = text;
    this.drawAnew();
  }

  say(state) {
    this.state.dataset.outboxState = this.refused ? "failing" : state;
    this.state.textContent = this.refused || STATE_WORDS[state];
  }
}
