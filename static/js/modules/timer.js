// Counts down what is left of a timed lab. The server's clock rules: it says how many seconds are left when it sends
// the page, and here only the time since then is taken off, so a tablet with a wrong clock shows the right time.
//
//   element           data-seconds-left, data-over-url
//   [data-left]       shows what is left      [data-left-said]  says it aloud now and then
//
// At the end the typing is hurried to the server, which takes it for a few seconds more; then the page is left for
// data-over-url, where the server shows the result.

const SAY_AT_MINUTES = [10, 5, 1];
const NEARLY_OVER_S = 300;
const LEAVE_AFTER_S = 11; // just past the grace of app/domain/standing/rules.py

export function start(element) {
  const seconds = Number(element.dataset.secondsLeft);
  const began = performance.now();
  const clock = new Clock(element, () => seconds - (performance.now() - began) / 1000);
  clock.tick();
  // A tablet that slept shows the true time as soon as it wakes; a page from the browser's memory is asked for anew.
  document.addEventListener("visibilitychange", () => clock.tick());
  window.addEventListener("pageshow", (event) => event.persisted && window.location.reload());
}

class Clock {
  constructor(element, left) {
    this.element = element;
    this.left = left;
    this.timer = null;
    this.shown = element.querySelector("[data-left]");
    this.said = element.querySelector("[data-left-said]");
    this.toSay = SAY_AT_MINUTES.filter((minutes) => minutes * 60 < left());
    this.hurried = false;
    this.shown.hidden = false;
  }

  tick() {
    clearTimeout(this.timer);
    const left = this.left();
    if (left <= -LEAVE_AFTER_S) {
      window.location.assign(this.element.dataset.overUrl);
      return;
    }
    this.shown.textContent = left > 0 ? `${words(left)} left` : "Time is up. Handing in…";
    this.element.classList.toggle("nearly-over", left <= NEARLY_OVER_S);
    this.say(left);
    if (left <= 0) this.hurry();
    this.timer = setTimeout(() => this.tick(), 250);
  }

  say(left) {
    const due = this.toSay.filter((minutes) => left <= minutes * 60);
    if (due.length > 0) this.said.textContent = `${counted(Math.min(...due), "minute")} left`;
    this.toSay = this.toSay.filter((minutes) => !due.includes(minutes));
  }

  // Leaving a field is what makes an answer be saved at once.
  hurry() {
    if (this.hurried) return;
    this.hurried = true;
    this.said.textContent = "Time is up. What is saved is handed in.";
    if (document.activeElement?.closest("form")) document.activeElement.blur();
  }
}

function words(seconds) {
  const whole = Math.ceil(seconds);
  const [hours, minutes, rest] = [Math.floor(whole / 3600), Math.floor((whole % 3600) / 60), whole % 60];
  const two = (count) => String(count).padStart(2, "0");
  return hours > 0 ? `${hours}:${two(minutes)}:${two(rest)}` : `${minutes}:${two(rest)}`;
}

function counted(count, one) {
  return `${count} ${one}${count === 1 ? "" : "s"}`;
}
