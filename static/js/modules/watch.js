// Shows what happens in a running lab: asks for the page again every few seconds and takes [data-watch] from it. The
// status line says the counts when they change, and that the server can't be reached; nothing is asked while the page
// is hidden.
const EVERY_MS = 5000;
const LOST = "No answer from the server; what is shown is old. Trying again.";

export function start(frame) {
  const status = frame.querySelector("[data-watch-status]");

  async function look() {
    if (document.hidden) return;
    try {
      const response = await fetch(location.href, { headers: { Accept: "text/html" } });
      if (!response.ok || response.redirected) {
        location.reload(); // it says why, or asks to sign in again
        return;
      }
      const page = new DOMParser().parseFromString(await response.text(), "text/html");
      const shown = frame.querySelector("[data-watch]");
      const focused = shown.contains(document.activeElement) && document.activeElement.getAttribute("href");
      shown.replaceWith(page.querySelector("[data-watch]"));
      if (focused) frame.querySelector(`[href="${CSS.escape(focused)}"]`)?.focus();
      say(page.querySelector("[data-watch-status]").textContent, false);
    } catch {
      say(LOST, true);
    }
  }

  function say(text, lost) {
    if (status.textContent !== text) status.textContent = text;
    status.classList.toggle("unseen", !lost);
  }

  setInterval(look, EVERY_MS);
  document.addEventListener("visibilitychange", look);
}
