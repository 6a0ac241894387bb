"use strict";
document.documentElement.classList.add("js", "opening");

// The browser looks through all fields of a page that opens, and again of what
// comes after it, and lays out for that what is folded away as well: of the
// profile nearly three times as much. So nothing is folded there until it has, or until
// somebody does something, such as to look for words; then those within are found.
const opened = () => document.documentElement.classList.remove("opening");
for (const sign of ["keydown", "pointerdown", "focusin", "blur"]) addEventListener(sign, opened, { once: true, capture: true, passive: true });
addEventListener("load", () => setTimeout(opened, 3000));

// What was typed and not acknowledged yet is kept in the browser. An answer to
// a form that was sent acknowledges it; whoever signs out leaves nothing.
try {
  const sent = sessionStorage.getItem("sent");
  sessionStorage.removeItem("sent");
  if (sent && performance.getEntriesByType("navigation")[0]?.responseStatus < 400) localStorage.removeItem(sent);
  document.querySelector("form.out")?.addEventListener("submit", () => {
    for (const key of Object.keys(localStorage)) if (key.startsWith("kinwain:")) localStorage.removeItem(key);
  });
} catch { /* no room to keep anything in */ }

// On the shop's own devices, where somebody has signed in, a page of the app is
// kept for when there is no network. Everything works without, and nobody waits
// for it.
if (document.querySelector("form.out")) addEventListener("load", () => setTimeout(() => {
  document.cookie = "script=yes; path=/consultations; SameSite=Lax";
  navigator.serviceWorker?.register("/worker.js").catch(() => { /* not by http over the network */ });
}));

// Of a page that the script changes a part of, the address leads to that part
// alone by its name.
const part = async (address, name, init) => {
  const to = new URL(address, location.href), read = document.createElement("template");
  to.searchParams.set("part", name);
  const answer = await fetch(to, init);
  if (!answer.ok) throw new Error(answer.status);
  read.innerHTML = await answer.text();
  return read.content;
};

// What to ask next takes a while to work out, so it comes after the page. What
// is being typed there stays.
const next = document.getElementById("ask");
let due, wanted;
const ask = (after) => {
  clearTimeout(due);
  due = setTimeout(async () => {
    const fields = document.getElementById("ask-form")?.elements || [];
    if (!next || [...fields].some((f) => f === document.activeElement || f.type === "text" && f.value)) return;
    wanted?.abort();
    wanted = new AbortController();
    try {
      const found = await part(next.dataset.ask, "ask", { signal: wanted.signal });
      next.replaceChildren(...found.getElementById("ask").childNodes);
    } catch { /* the link asks as well */ }
  }, after);
};
if (next && !document.getElementById("ask-form").elements.length) ask(300);
document.addEventListener("ranked", () => ask(1500));

// The one change that makes a frame fit takes a while as well: the rows are on
// the screen first, with room for it.
const later = document.querySelector("[data-later]");
if (later) (async () => {
  try {
    const found = await part(later.dataset.later, "changes"), helped = found.querySelectorAll(".change").length;
    for (const row of document.querySelectorAll(".ranked [data-about]")) {
      const full = found.querySelector(`[data-about="${row.dataset.about}"]`);
      if (full && !row.isEqualNode(full)) row.replaceWith(full);
    }
    later.textContent = helped ? `${helped} of those below would fit after one change.` : "None of those below is known to fit after one change.";
  } catch {
    later.textContent = "Not found out what would make the others fit: open one to see.";
  }
})();

// Ticking an add-on asks again at once; only the result is replaced, so that
// the list of add-ons stays where it is under the finger.
for (const picks of document.querySelectorAll("form[data-result]")) {
  const result = document.getElementById(picks.dataset.result);
  let asked;
  picks.addEventListener("change", async () => {
    asked?.abort(); // the newest choice counts
    asked = new AbortController();
    const address = picks.action + "?" + new URLSearchParams(new FormData(picks));
    try {
      const found = await part(address, result.id, { signal: asked.signal });
      result.replaceChildren(...found.getElementById(result.id).childNodes);
      picks.querySelector("[data-said]").textContent = [...result.querySelectorAll("h2, h3, .line")].map((e) => e.textContent).join(". ");
      history.replaceState(null, "", address);
    } catch (e) {
      if (e.name !== "AbortError") picks.submit();
    }
  });
}

// The button that prints; without a script the browser's own does.
document.querySelector("[data-print]")?.addEventListener("click", () => window.print());

// What takes a while says so from the moment it is sent.
document.addEventListener("submit", (e) => {
  const busy = e.target.querySelector("[data-busy]");
  if (busy && !e.defaultPrevented) busy.hidden = false;
});
addEventListener("pageshow", () => document.querySelectorAll("[data-busy]").forEach((busy) => { busy.hidden = true; }));
