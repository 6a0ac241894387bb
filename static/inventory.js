"use strict";
// A search through a list narrows it with every key; the button asks the shop's
// computer, as it does without a script.
const narrow = document.querySelector("[data-narrow]");
const rows = [...document.querySelectorAll("tr[data-text]")];
if (narrow && rows.length > 0) {
  const said = document.querySelector("[data-narrowed]");
  const texts = rows.map((row) => row.dataset.text.toLowerCase());
  narrow.addEventListener("input", () => {
    const words = narrow.value.toLowerCase().split(/\s+/).filter(Boolean);
    let left = 0;
    rows.forEach((row, i) => {
      row.hidden = !words.every((word) => texts[i].includes(word));
      if (!row.hidden) left++;
    });
    if (said) said.textContent = `${left} of ${rows.length}`;
  });
}

// A tick asks at once what would never work.
const fits = document.querySelector("form[data-fits]");
if (fits) {
  let asked;
  fits.addEventListener("change", async () => {
    asked?.abort();
    asked = new AbortController();
    const body = new URLSearchParams(new FormData(fits));
    body.set("do", "check");
    try {
      const found = await part(fits.action, "misfits", { method: "POST", body, signal: asked.signal });
      document.getElementById("misfits").replaceChildren(...found.getElementById("misfits").childNodes);
      const bad = new Set([...found.querySelectorAll("[name=fit]")].map((i) => i.value));
      for (const box of fits.querySelectorAll("td input")) box.closest("td").classList.toggle("misfit", bad.has(box.value));
    } catch { /* the button asks again */ }
  });
}

// The grid is one stop of the tab key; arrows go from box to box, Home and End
// along the row.
if (fits) {
  const grid = [...fits.querySelectorAll(".fit-grid tbody tr")].map((row) => [...row.querySelectorAll("input")]).filter((row) => row.length > 0);
  const stop = (box) => {
    for (const other of grid.flat()) other.tabIndex = other === box ? 0 : -1;
  };
  if (grid.length > 0) stop(grid[0][0]);
  fits.addEventListener("focusin", (e) => { if (e.target.name === "fit") stop(e.target); });
  fits.addEventListener("keydown", (e) => {
    const y = grid.findIndex((row) => row.includes(e.target));
    if (y < 0) return;
    const x = grid[y].indexOf(e.target);
    const to = { ArrowLeft: [y, x - 1], ArrowRight: [y, x + 1], ArrowUp: [y - 1, x], ArrowDown: [y + 1, x], Home: [y, 0], End: [y, grid[y].length - 1] }[e.key];
    if (!to) return;
    e.preventDefault();
    grid[to[0]]?.[to[1]]?.focus();
  });
}

// In a column that is typed in place, the arrows go from row to row.
document.addEventListener("keydown", (e) => {
  const cell = e.target.closest?.(".typed"), step = { ArrowUp: "previousElementSibling", ArrowDown: "nextElementSibling" }[e.key];
  if (!cell || !step || e.target.type !== "text") return;
  const at = cell.cellIndex;
  for (let row = cell.parentElement[step]; row; row = row[step]) {
    const next = !row.hidden && row.cells[at]?.querySelector("input[type=text]");
    if (!next) continue;
    e.preventDefault();
    next.focus();
    next.select();
    return;
  }
});

// Whoever has no finger on the screen begins where most is typed, else behind
// the heading: past the ways to everything else. An address that leads to a
// part of the page is kept to.
if (!location.hash && !document.querySelector("[autofocus]") && !matchMedia("(pointer: coarse)").matches) {
  const heading = document.querySelector("main h1");
  if (heading) heading.tabIndex = -1;
  const begin = document.querySelector("a[data-begin], [data-begin] :is(input:not([type=hidden]), select, textarea)") ?? heading;
  if (document.activeElement === document.body) begin?.focus({ preventScroll: begin === heading });
  begin?.select?.();
}

// A photo that is chosen beside a figure is named there.
document.addEventListener("change", (e) => {
  if (e.target.matches(".take > input")) e.target.parentElement.querySelector("output").textContent = e.target.files[0]?.name ?? "";
});

// What went wrong is read first.
document.querySelector("[data-alert]")?.focus();
