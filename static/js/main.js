// Starts the module named by each element's data-module. Without JavaScript every page still works.

const KNOWN = new Set([
  "authoring", "autosave", "board", "confirm", "error-summary", "gradebook-keys", "heat", "live",
  "order", "print", "reveal", "scroll-region", "slider", "spots", "taps", "timer", "watch",
]);

for (const element of document.querySelectorAll("[data-module]")) {
  for (const name of element.dataset.module.split(" ")) {
    if (KNOWN.has(name)) {
      import(`./modules/${name}.js`).then((module) => module.start(element));
    } else {
      console.error(`No such module: ${name}`);
    }
  }
}
