// The gradebook's cells by keyboard and pointer: arrow keys move, Enter or a click opens the grade that the
// head of the column and the row name.
const STEP = {
  ArrowUp: [-1, 0],
  ArrowDown: [1, 0],
  ArrowLeft: [0, -1],
  ArrowRight: [0, 1],
  PageUp: [-10, 0],
  PageDown: [10, 0],
  Home: [0, -Infinity],
  End: [0, Infinity],
};

export function start(table) {
  const assignments = [...table.tHead.rows[0].cells].map((cell) => cell.dataset.assignment);
  const rows = [...table.tBodies[0].rows];
  const first = assignments.findIndex(Boolean);
  const clamp = (value, low, high) => Math.min(Math.max(value, low), high);
  let at = null;

  const address = (cell) =>
    table.dataset.grade
      .replace("a".repeat(20), assignments[cell.cellIndex])
      .replace("s".repeat(20), cell.parentElement.dataset.student);
  const isGrade = (cell) => cell && assignments[cell.cellIndex] && cell.closest("tbody");

  function choose(cell, focus = true) {
    if (at) at.tabIndex = -1;
    at = cell;
    at.tabIndex = 0;
    if (focus) at.focus();
  }

  table.setAttribute("role", "grid");
  choose(rows[0].cells[first], false);

  table.addEventListener("keydown", (event) => {
    const cell = event.target.closest("td");
    if (!isGrade(cell)) return;
    if (event.key === "Enter") {
      location.assign(address(cell));
      return;
    }
    if (!(event.key in STEP)) return;
    event.preventDefault();
    const [down, right] = STEP[event.key];
    const row = rows[clamp(rows.indexOf(cell.parentElement) + down, 0, rows.length - 1)];
    choose(row.cells[clamp(cell.cellIndex + right, first, row.cells.length - 1)]);
  });

  table.addEventListener("click", (event) => {
    const cell = event.target.closest("td");
    if (isGrade(cell)) location.assign(address(cell));
  });
}
