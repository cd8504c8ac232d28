// Saves a sheet of a draft while it is written, and puts what the server says into the page.
//
//   form                 posts to where it is saved; its fields revision, page and page_revision say what it stands on
//   [data-save-state]    says how things stand
//   [data-field=ID]      round the control with that id: its fault is put there
//   [data-live=NAME]     a part of the page that the server draws anew: the drawing, what is still to be filled in
//
// The whole sheet is sent each time, so the newest save holds all. A closing page may send out of order: it names
// itself and counts its saves, and the server keeps the greater count.

import { replaceContent } from "../fresh-part.js";
import { isRefusal, randomName } from "../sending.js";

const PAUSE_MS = 500;
const RETRY_MS = 3000;
const SAVING = "Saving…";
const SAVED = "Saved";
const TRY_AGAIN = "Not saved yet – will try again";
const REFUSED = "Not saved. Press Save, or reload the page.";

export function start(form) {
  const sheet = new Sheet(form);
  form.addEventListener("input", () => sheet.changed(PAUSE_MS));
  form.addEventListener("change", () => sheet.changed(0));
  form.addEventListener("submit", () => sheet.leave());
  document.addEventListener("visibilitychange", () => document.hidden && sheet.sendNow());
  window.addEventListener("pagehide", () => sheet.sendNow());
  window.addEventListener("beforeunload", (event) => sheet.wouldLose() && event.preventDefault());
}

class Sheet {
  constructor(form) {
    this.form = form;
    this.count = 0;
    this.unsaved = false;
    this.sending = false;
    this.failing = false;
    this.stopped = false;
    this.leaving = false;
    this.timer = null;
    form.elements.page.value = randomName();
  }

  changed(pauseMs) {
    if (this.stopped) return;
    this.unsaved = true;
    this.say(SAVING, "saving");
    this.wake(pauseMs);
  }

  wake(delayMs) {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.send(), delayMs);
  }

  sendNow() {
    if (this.unsaved && !this.stopped && !this.leaving) this.send();
  }

  // The form that is sent takes everything along, under a count that no save has had.
  leave() {
    clearTimeout(this.timer);
    this.leaving = true;
    this.stamp();
    window.addEventListener("pageshow", (event) => event.persisted && window.location.reload());
  }

  stamp() {
    this.count += 1;
    this.form.elements.page_revision.value = this.count;
  }

  async send() {
    if (this.sending || this.leaving) return;
    clearTimeout(this.timer);
    this.sending = true;
    this.unsaved = false;
    this.stamp();
    try {
      const response = await fetch(this.form.action + window.location.search, {
        method: "POST",
        keepalive: document.hidden,
        headers: { Accept: "application/json" },
        body: new URLSearchParams(new FormData(this.form)),
      });
      const reply = await response.json().catch(() => ({}));
      if (response.ok && reply.saved === true) this.take(reply);
      else if (isRefusal(response)) this.stop(reply.message ?? REFUSED);
      else this.fail();
    } catch {
      this.fail();
    }
    this.sending = false;
    if (this.unsaved && !this.stopped) this.wake(this.failing ? RETRY_MS : 0);
  }

  take(reply) {
    this.failing = false;
    this.form.elements.revision.value = reply.revision;
    if (this.unsaved) return; // a newer answer comes
    this.say(SAVED, "saved");
    for (const holder of this.form.querySelectorAll("[data-field]")) showProblem(holder, reply.problems[holder.dataset.field]);
    for (const part of this.form.querySelectorAll("[data-live]")) replace(part, reply.parts[part.dataset.live]);
  }

  fail() {
    this.failing = true;
    this.unsaved = true;
    this.say(TRY_AGAIN, "failing");
  }

  stop(message) {
    this.stopped = true;
    this.unsaved = true;
    this.say(message, "stopped");
  }

  wouldLose() {
    return this.unsaved && (this.failing || this.stopped) && !this.leaving;
  }

  say(text, state) {
    const holder = this.form.querySelector("[data-save-state]");
    holder.dataset.saveState = state;
    if (holder.textContent !== text) holder.textContent = text;
  }
}

function showProblem(holder, text) {
  const id = `${holder.dataset.field}-error`;
  let told = document.getElementById(id);
  if (!text) {
    if (!told) return;
    told.remove();
    holder.querySelectorAll("[aria-invalid]").forEach((each) => each.removeAttribute("aria-invalid"));
    holder.querySelector(".faulty")?.classList.remove("faulty");
    describe(holder, id, false);
    return;
  }
  if (!told) {
    told = document.createElement("p");
    told.id = id;
    told.className = "field-error";
    (holder.querySelector("legend, label")?.closest("legend, label") ?? holder).insertAdjacentElement(
      holder.querySelector("legend, label") ? "afterend" : "afterbegin",
      told,
    );
    holder.querySelector(".field")?.classList.add("faulty");
    holder.querySelectorAll("input:not([type=hidden]), select, textarea").forEach((each) => each.setAttribute("aria-invalid", "true"));
    describe(holder, id, true);
  }
  told.textContent = text;
}

// A group's fault is told with the group, a single box's with the box.
function describe(holder, id, add) {
  const target = holder.querySelector("fieldset") ?? holder.querySelector("input:not([type=hidden]), select, textarea");
  if (!target) return;
  const ids = new Set((target.getAttribute("aria-describedby") ?? "").split(/\s+/).filter(Boolean));
  if (add) ids.add(id);
  else ids.delete(id);
  if (ids.size > 0) target.setAttribute("aria-describedby", [...ids].join(" "));
  else target.removeAttribute("aria-describedby");
}

function replace(part, html) {
  if (html === undefined) return;
  replaceContent(part, new DOMParser().parseFromString(html, "text/html").body);
}
