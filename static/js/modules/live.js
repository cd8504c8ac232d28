// Asks the server for the answer while a calculator's form is filled in. The server answers with the whole page;
// from it are taken
//   [data-live]     each part of that name, in place of this page's
//   [data-entry]    the fault of each entry, and where its slider stands
// The last question wins, and the address holds it: a link or the projector view gives the same answer.

import { replaceContent } from "../fresh-part.js";

const PAUSE_MS = 200;
const NO_ANSWER = "No answer from the server. Press Calculate to try again.";

export function start(form) {
  const live = new Live(form);
  form.addEventListener("input", () => live.soon(PAUSE_MS));
  form.addEventListener("change", () => live.soon(0));
  form.addEventListener("submit", (event) => {
    if (live.failed) return; // the page that comes says why, or asks to sign in again
    event.preventDefault();
    live.soon(0);
  });
  live.button.hidden = true;
}

class Live {
  constructor(form) {
    this.form = form;
    this.button = form.querySelector("[data-live-button]");
    this.timer = null;
    this.asking = null;
    this.failed = false;
  }

  address() {
    return `${this.form.action}?${new URLSearchParams(new FormData(this.form))}`;
  }

  soon(pauseMs) {
    clearTimeout(this.timer);
    document.documentElement.dataset.liveState = "asking"; // the answer on the page is no longer that of the entries
    this.timer = setTimeout(() => this.ask(), pauseMs);
  }

  async ask() {
    const address = this.address();
    this.asking?.abort();
    const asking = (this.asking = new AbortController());
    try {
      const response = await fetch(address, { headers: { Accept: "text/html" }, signal: asking.signal });
      const page = new DOMParser().parseFromString(await response.text(), "text/html");
      if (asking.signal.aborted) return;
      if (!page.querySelector("[data-live]")) throw new Error(`no calculator at ${response.url}`);
      this.take(page);
      history.replaceState(null, "", address);
    } catch (error) {
      if (asking.signal.aborted) return;
      console.error(error);
      this.fail();
    }
  }

  take(page) {
    for (const part of document.querySelectorAll("[data-live]")) {
      replaceContent(part, page.querySelector(`[data-live="${part.dataset.live}"]`));
    }
    for (const entry of this.form.querySelectorAll("[data-entry]")) {
      const fresh = page.querySelector(`[data-entry="${entry.dataset.entry}"]`);
      if (!fresh) continue;
      takeFault(entry, fresh);
      takeSlider(entry, fresh);
    }
    this.failed = false;
    this.button.hidden = true;
    delete document.documentElement.dataset.liveState;
  }

  // An answer to other entries must not stay on the page as if it were theirs.
  fail() {
    for (const part of document.querySelectorAll("[data-live]")) {
      if (part.dataset.live === "headline") part.textContent = NO_ANSWER;
      else if (part.dataset.live !== "view") part.replaceChildren();
    }
    this.failed = true;
    this.button.hidden = false;
    delete document.documentElement.dataset.liveState;
  }
}

function takeFault(entry, fresh) {
  entry.querySelector(".field-error")?.remove();
  const fault = fresh.querySelector(".field-error");
  const [control, freshControl] = [entry, fresh].map((one) => one.querySelector("[name]"));
  entry.querySelector(".field").classList.toggle("faulty", fault !== null);
  if (fault) entry.querySelector("label").after(fault);
  for (const name of ["aria-invalid", "aria-describedby"]) {
    if (freshControl.hasAttribute(name)) control.setAttribute(name, freshControl.getAttribute(name));
    else control.removeAttribute(name);
  }
}

function takeSlider(entry, fresh) {
  const [slider, freshSlider] = [entry, fresh].map((one) => one.querySelector("[type=range]"));
  if (!slider || slider === document.activeElement) return;
  for (const name of ["min", "max", "step", "value", "data-suffix", "aria-valuetext"]) {
    slider.setAttribute(name, freshSlider.getAttribute(name));
  }
  slider.value = freshSlider.value;
}
