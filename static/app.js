// The profile form without a button: every answer is saved and the ranking
// beside the form follows. Without this script the form works by its buttons.
"use strict";
document.documentElement.classList.add("js");

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
      const answer = await fetch(next.dataset.ask, { signal: wanted.signal });
      const found = new DOMParser().parseFromString(await answer.text(), "text/html").getElementById("ask");
      if (found) next.replaceChildren(...found.childNodes);
    } catch { /* the link asks as well */ }
  }, after);
};
if (next && !document.getElementById("ask-form").elements.length) ask(300);

const form = document.querySelector("form[data-live]");
if (form) {
  const ranking = document.getElementById("ranking");
  const state = form.querySelector("[data-state]");
  const peek = form.querySelector("[data-peek]");
  const insists = form.querySelector(".alert") !== null;
  let timer, sending = false, again = false, leaving = false, answered = false, waiting = null, pressing = false;

  const body = () => new URLSearchParams(new FormData(form)).toString();
  let judged = new URLSearchParams(body()); // what the faults in the ranking are about
  const about = () => ranking.querySelector("[data-version]").dataset;

  const say = (text, trouble) => {
    state.textContent = text;
    state.classList.toggle("trouble", Boolean(trouble));
  };

  // The draft holds what was typed since the shop's computer last answered. It
  // counts only while nobody has saved anything newer there.
  const draft = {
    key: "kinwain:" + form.dataset.live,
    read() { try { return JSON.parse(localStorage.getItem(this.key)); } catch { return null; } },
    keep() { try { localStorage.setItem(this.key, JSON.stringify({ version: about().version, body: body() })); } catch { /* no room: the page still has it */ } },
    drop() { try { localStorage.removeItem(this.key); } catch { /* nor was it kept */ } },
  };

  const restore = (kept) => {
    const typed = new URLSearchParams(kept);
    for (const field of form.elements) {
      if (field.type === "checkbox") field.checked = typed.getAll(field.name).includes(field.value);
      else if (field.name && field.id !== "units" && field.matches("input, select") && typed.has(field.name)) field.value = typed.get(field.name);
    }
  };

  // places maps every frame of the ranking to where it stands.
  const places = () => new Map([...ranking.querySelectorAll("[data-frame]")].map((li, i) => [li.dataset.frame, i]));

  const show = (html, sent) => {
    judged = new URLSearchParams(sent);
    const before = places(), open = ranking.querySelector("details")?.open;
    const focused = ranking.contains(document.activeElement) && document.activeElement.closest("[data-frame]")?.dataset.frame;
    ranking.innerHTML = html;
    if (open) ranking.querySelector("details")?.setAttribute("open", "");
    if (focused) ranking.querySelector(`[data-frame="${focused}"] a`)?.focus({ preventScroll: true });
    for (const [frame, place] of places()) {
      if (before.size && before.get(frame) !== place) {
        ranking.querySelector(`[data-frame="${frame}"]`).classList.add("moved");
      }
    }
    peek.textContent = about().summary;
    mark();
    ask(1500);
  };

  // mark shows what is wrong at its field: where something was typed, and
  // everywhere once the frames were asked for; but not what was wrong before
  // the last key. It waits for a finger to lift, lest the page move under it.
  const mark = () => {
    if (pressing) return;
    const faults = new Map([...ranking.querySelectorAll("[data-fault]")].map((p) => [p.dataset.fault, p.textContent]));
    for (const slot of form.querySelectorAll("[data-error-for]")) {
      const field = document.getElementById(slot.dataset.errorFor);
      const input = field?.matches("input, select") ? field : null;
      const typing = input === document.activeElement && input?.matches("[type=text]");
      const stale = input && input.type !== "checkbox" && judged.get(input.name) !== input.value;
      const due = !input || !typing && !stale && (insists || input.value !== "");
      const text = due ? faults.get(slot.dataset.errorFor) || "" : "";
      slot.textContent = text;
      if (!input) continue;
      slot.parentElement.classList.toggle("bad", text !== "");
      if (text) input.setAttribute("aria-invalid", "true"); else input.removeAttribute("aria-invalid");
    }
  };

  const send = async () => {
    clearTimeout(timer);
    if (leaving) return;
    if (sending) { again = waiting === null; return; }
    sending = true;
    const sent = body();
    let status = 0;
    try {
      const answer = await fetch(form.dataset.live, { method: "POST", body: sent, signal: AbortSignal.timeout(15000),
        headers: { "Content-Type": "application/x-www-form-urlencoded" } });
      status = answer.status;
      if (!answer.ok) throw new Error(status);
      show(await answer.text(), sent);
      if (body() === sent) draft.drop(); else draft.keep();
      say("Saved. " + about().summary + ".");
    } catch {
      draft.keep();
      say(status === 403 ? "Not saved yet: nobody is signed in any more. Kept on this tablet. Sign in, then open this page again."
        : "Not saved yet: no answer from the shop’s computer. Kept on this tablet and sent again soon.", true);
      timer = setTimeout(send, 5000);
    }
    sending = false;
    const button = waiting;
    waiting = null;
    answered = status === 200;
    if (button && (answered || navigator.onLine)) form.requestSubmit(button);
    else if (again) { again = false; send(); }
  };

  // know unticks "don't know yet" where somebody types an answer after all.
  const know = (name) => {
    for (const box of form.querySelectorAll("[name=unknown]:checked")) {
      if (name === box.value || name.startsWith(box.value + ".") || name.startsWith(box.value + "[")) box.checked = false;
    }
  };

  form.addEventListener("input", (e) => {
    if (e.target.form !== form) return;
    if (e.target.name !== "unknown" && e.target.value !== "") know(e.target.name);
    draft.keep();
    clearTimeout(timer);
    timer = setTimeout(send, 350);
  });
  form.addEventListener("change", (e) => { if (e.target.form !== form) return; if (e.target.id === "units") form.requestSubmit(form.querySelector(".js-hide")); else send(); });
  form.addEventListener("focusout", () => setTimeout(mark));
  window.addEventListener("pointerdown", () => { pressing = true; });
  for (const lifted of ["pointerup", "pointercancel"]) {
    window.addEventListener(lifted, () => { pressing = false; setTimeout(mark); });
  }
  window.addEventListener("online", send);

  // A button waits for what is being sent: the newest answers have to come last.
  // Where the browser believes that there is no network, they are sent first: the
  // shop's computer may be this one, or be reached all the same.
  form.addEventListener("submit", (e) => {
    clearTimeout(timer);
    if (sending || !navigator.onLine && !answered) {
      e.preventDefault();
      waiting = e.submitter;
      send();
      return;
    }
    answered = false;
    leaving = true;
    setTimeout(() => { leaving = false; }, 15000);
  });

  // A draft from before the tablet slept or the network dropped goes first.
  const kept = draft.read();
  if (kept?.version === about().version && kept.body !== body()) {
    restore(kept.body);
    send();
  } else {
    draft.drop();
  }
  form.querySelector(".alert")?.focus();
}

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
      const answer = await fetch(address, { signal: asked.signal });
      if (!answer.ok) throw new Error(answer.status);
      const next = new DOMParser().parseFromString(await answer.text(), "text/html").getElementById(picks.dataset.result);
      result.replaceChildren(...next.childNodes);
      picks.querySelector("[data-said]").textContent = result.querySelector("h2").textContent + ". " + result.querySelector(".line").textContent;
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
