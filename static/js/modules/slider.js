// A slider beside a typed entry: moving it types its value with its unit.
//   data-for   the id of the entry        data-suffix   what is typed after the number
export function start(slider) {
  const entry = document.getElementById(slider.dataset.for);
  slider.hidden = false;
  slider.addEventListener("input", () => {
    entry.value = slider.value + slider.dataset.suffix;
    slider.setAttribute("aria-valuetext", entry.value);
    entry.dispatchEvent(new Event("input", { bubbles: true }));
  });
}
