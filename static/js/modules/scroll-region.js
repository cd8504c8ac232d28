// A table's frame is a stop for the Tab key only while it can be scrolled.
export function start(frame) {
  const update = () => {
    const overflows = frame.scrollWidth > frame.clientWidth + 1;
    frame.toggleAttribute("tabindex", overflows);
    if (overflows) frame.setAttribute("tabindex", "0");
  };
  new ResizeObserver(update).observe(frame);
}
