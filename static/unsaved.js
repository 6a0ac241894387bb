"use strict";
// Leaving a form with edits that are not saved asks first. Buttons of the form
// send it on with all that was typed, so they never ask.
const ware = document.querySelector("[data-guard]");
if (ware) {
  const typed = () => JSON.stringify([...new FormData(ware)].map(([name, value]) => [name, value.name ?? value]));
  const kept = ware.hasAttribute("data-unsaved") ? "" : typed();
  const ask = (e) => e.preventDefault();
  const look = () => (typed() === kept ? removeEventListener : addEventListener)("beforeunload", ask);
  look();
  for (const change of ["input", "change"]) document.addEventListener(change, look);
  ware.addEventListener("submit", () => removeEventListener("beforeunload", ask));
  addEventListener("pageshow", (e) => { if (e.persisted) look(); });
}
