// A heat's time as the pages of the server show it: `9.4`, and from a minute on `1:02.0`. ms: milliseconds.
export function shown(ms) {
  const tenths = Math.max(0, Math.floor(ms / 100));
  const minutes = Math.floor(tenths / 600);
  const seconds = ((tenths % 600) / 10).toFixed(1);
  return minutes ? `${minutes}:${seconds.padStart(4, "0")}` : seconds;
}
