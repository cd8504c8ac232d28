// Sends small messages one after another until the server has each of them, over a network that comes and goes.
// What waits is kept in the browser, so that a page that was closed by mistake loses nothing; each message has a key of
// its own, and the server takes a key once.
//
//   new Outbox({ name, url, token, onSaved(message, reply), onRefused(message, text), onState(state) })
//   outbox.send(message)      adds `key` and sends
//   state: "idle" | "sending" | "failing" | "stale"

import { isRefusal, randomName } from "./sending.js";

const FIRST_RETRY_MS = 1000;
const LAST_RETRY_MS = 15_000;
const ANSWER_WITHIN_MS = 10_000;
const GONE_WITHIN_MS = 5000;

export class Outbox {
  constructor({ name, url, token, onSaved, onRefused, onState }) {
    Object.assign(this, { name: `heavy-spot ${name}`, url, token, onSaved, onRefused, onState });
    this.waiting = this.kept();
    this.busy = false;
    this.timer = null;
    this.retryMs = FIRST_RETRY_MS;
    this.leaving = false;
    window.addEventListener("online", () => this.next());
    window.addEventListener("beforeunload", () => this.leave());
    document.addEventListener("visibilitychange", () => document.hidden || this.next());
    this.next();
  }

  send(message) {
    this.waiting.push({ ...message, key: randomName() });
    this.keep();
    this.next();
  }

  async next() {
    clearTimeout(this.timer);
    if (this.busy || this.waiting.length === 0) return;
    this.busy = true;
    this.onState("sending");
    const [message] = this.waiting;
    const done = await this.post(message);
    this.busy = false;
    if (this.leaving) return;
    if (done) {
      this.waiting.shift();
      this.keep();
      this.retryMs = FIRST_RETRY_MS;
      if (this.waiting.length === 0) this.onState("idle");
      else this.next();
    } else {
      this.timer = setTimeout(() => this.next(), this.retryMs);
      this.retryMs = Math.min(2 * this.retryMs, LAST_RETRY_MS);
    }
  }

  // The next page may have been written before the message under way was saved: what waits stays for it to send again.
  // A page that is still there after a while was only asked for a file, or kept by its reader.
  leave() {
    this.leaving = true;
    setTimeout(() => {
      this.leaving = false;
      this.next();
    }, GONE_WITHIN_MS);
  }

  // Whether the message is dealt with; false: it has to be sent again.
  async post(message) {
    try {
      const response = await fetch(this.url(message), {
        method: "POST",
        signal: AbortSignal.timeout(ANSWER_WITHIN_MS),
        headers: { "Content-Type": "application/json", Accept: "application/json", "X-CSRF-Token": this.token() },
        body: JSON.stringify(message),
      });
      const reply = await response.json().catch(() => ({}));
      if (response.ok && reply.saved === true) this.onSaved(message, reply);
      else if ([400, 401].includes(response.status)) return this.wait("stale"); // signed out, or in again elsewhere
      else if (isRefusal(response)) this.onRefused(message, reply.message ?? "Not saved. Reload the page and try again.");
      else return this.wait("failing");
      return true;
    } catch {
      return this.wait("failing");
    }
  }

  wait(state) {
    this.onState(state);
    return false;
  }

  kept() {
    try {
      return JSON.parse(localStorage.getItem(this.name)) ?? [];
    } catch {
      return [];
    }
  }

  keep() {
    try {
      if (this.waiting.length > 0) localStorage.setItem(this.name, JSON.stringify(this.waiting));
      else localStorage.removeItem(this.name);
    } catch {
      // A browser that keeps nothing still sends while the page is open.
    }
  }
}

export const STATE_WORDS = {
  idle: "Saved",
  sending: "Saving…",
  failing: "Not saved yet – will try again by itself",
  stale: "Not saved yet. Reload this page, and sign in if you are asked to: what you tapped is kept and sent then.",
};
