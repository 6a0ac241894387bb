// The profile form without a button: every answer is saved and the ranking
// beside the form follows. Without this script the form works by its buttons.
"use strict";
document.documentElement.classList.add("js");

const form = document.querySelector("form[data-live]");
if (form) {
  const ranking = document.getElementById("ranking");
  const state = form.querySelector("[data-state]");
  const peek = form.querySelector("[data-peek]");
  const draft = "kinhaul:" + form.dataset.live;
  let timer, running, again = false;

  const say = (text) => { if (state) state.textContent = text; };
  const body = () => new URLSearchParams(new FormData(form)).toString();

  // places maps every frame of the ranking to where it stands.
  const places = () => new Map([...ranking.querySelectorAll("[data-frame]")].map((li, i) => [li.dataset.frame, i]));

  const show = (html) => {
    const before = places();
    ranking.innerHTML = html;
    for (const [frame, place] of places()) {
      if (before.size && before.get(frame) !== place) {
        ranking.querySelector(`[data-frame="${frame}"]`).classList.add("moved");
      }
    }
    const summary = ranking.querySelector("[data-summary]");
    if (peek && summary) peek.textContent = summary.textContent;
    mark();
  };

  // mark shows what is wrong at its field, but only where something was typed.
  const mark = () => {
    const faults = new Map([...ranking.querySelectorAll("[data-fault]")].map((p) => [p.dataset.fault, p.textContent]));
    for (const slot of form.querySelectorAll("[data-error-for]")) {
      const field = document.getElementById(slot.dataset.errorFor);
      const typing = field === document.activeElement && !field.matches("select");
      const text = field && field.value && !typing ? faults.get(slot.dataset.errorFor) || "" : "";
      slot.textContent = text;
      slot.parentElement.classList.toggle("bad", text !== "");
      if (field) field.toggleAttribute("aria-invalid", text !== "");
    }
  };

  const send = async () => {
    clearTimeout(timer);
    if (running) { again = true; return; }
    running = true;
    const sent = body();
    try {
      const answer = await fetch(form.dataset.live, { method: "POST", body: sent, headers: { "Content-Type": "application/x-www-form-urlencoded" } });
      if (!answer.ok) throw new Error(answer.status);
      show(await answer.text());
      localStorage.removeItem(draft);
      say("Saved.");
    } catch {
      localStorage.setItem(draft, sent);
      say("Not saved yet: no answer from the shop’s computer. Kept on this tablet.");
      timer = setTimeout(send, 5000);
    }
    running = false;
    if (again) { again = false; send(); }
  };

  form.addEventListener("input", () => { clearTimeout(timer); timer = setTimeout(send, 350); });
  form.addEventListener("change", (e) => { if (e.target.id === "units") { form.requestSubmit(form.querySelector(".js-hide")); } else { send(); } });
  form.addEventListener("focusout", mark);
  window.addEventListener("online", send);

  // A draft from before the tablet slept or the network dropped goes first.
  const kept = localStorage.getItem(draft);
  if (kept) {
    fetch(form.dataset.live, { method: "POST", body: kept, headers: { "Content-Type": "application/x-www-form-urlencoded" } })
      .then((answer) => { if (answer.ok) { localStorage.removeItem(draft); location.reload(); } }, () => {});
  }
  form.querySelector(".alert")?.focus();
}
