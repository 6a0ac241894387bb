// The profile form without a button: every answer is saved and the ranking
// beside the form follows. Without this script the form works by its buttons.
"use strict";
{
  const form = document.querySelector("form[data-live]");
  const ranking = document.getElementById("ranking");
  const state = form.querySelector("[data-state]");
  const peek = form.querySelector("[data-peek]");
  const insists = form.querySelector(".alert") !== null;
  let timer, sending = false, again = false, leaving = false, answered = false, waiting = null, pressing = false, typed = 0;

  const pause = 1500; // without a key, after which nobody types any more
  const reading = 4000; // for which what has moved stands, until somebody may have read it
  let lastKey = 0, shown = 0, since = "", pausing, doing = "", untold = null;

  const body = () => new URLSearchParams(new FormData(form)).toString();
  let judged = new URLSearchParams(body()); // what the faults in the ranking are about
  const about = () => ranking.querySelector("[data-version]").dataset;
  const asks = document.querySelector("[data-clash]");
  const version = form.elements.namedItem("version");
  let late = new Map(); // what is written into a field once nobody types in it

  const say = (text, trouble) => {
    state.textContent = text;
    state.classList.toggle("trouble", Boolean(trouble));
  };

  // The draft holds what was typed since the shop's computer last answered,
  // with the version of the answers that it was typed into.
  const draft = {
    key: "kinwain:" + form.dataset.live,
    read() { try { return JSON.parse(localStorage.getItem(this.key))?.body; } catch { return null; } },
    keep() { try { localStorage.setItem(this.key, JSON.stringify({ body: body() })); } catch { /* no room: the page still has it */ } },
    drop() { try { localStorage.removeItem(this.key); } catch { /* nor was it kept */ } },
  };

  const restore = (kept) => {
    const values = new URLSearchParams(kept);
    for (const field of form.elements) {
      if (field.type === "checkbox") field.checked = values.getAll(field.name).includes(field.value);
      else if (field.name && field.name !== "had" && field.id !== "units" && field.matches("input, select") && values.has(field.name)) field.value = values.get(field.name);
    }
  };

  // One step is open at a time, by the browser itself. Which one, the page knows
  // again when it is loaded or come back to.
  const steps = [...form.querySelectorAll("details.step")];
  const stepOf = (id) => steps.find((s) => s.dataset.step === id);
  if (!insists && !location.hash && history.state?.step) stepOf(history.state.step)?.setAttribute("open", "");
  for (const s of steps) s.addEventListener("toggle", () => { if (s.open) history.replaceState({ ...history.state, step: s.dataset.step }, ""); });
  // A button that adds no row needs no new page. Where no answer comes it is not
  // pressed again by itself: it may have done its work.
  const quick = (value) => { doing = value; send(); };
  form.addEventListener("click", (e) => {
    const button = e.target.closest("button[data-quick]");
    if (button) { e.preventDefault(); quick(button.value); return; }
    const next = stepOf(e.target.closest('button[value^="go "]')?.value.slice(3));
    if (!next) return;
    e.preventDefault();
    next.open = true;
    const empty = [...next.querySelectorAll("[type=text]")].find((f) => f.value === "" && f.checkVisibility());
    (empty || next.querySelector("summary")).focus();
    next.scrollIntoView({ block: "nearest" });
  });

  // places maps every frame of the ranking to where it stands.
  const places = () => new Map([...ranking.querySelectorAll("[data-frame]")].map((li, i) => [li.dataset.frame, i]));

  // Those that do not fit are folded away where others do; turns reports whether
  // somebody wants it the other way.
  const unfit = () => ranking.querySelector("details");
  const turns = () => unfit() && unfit().open !== unfit().hasAttribute("data-first");

  const fields = (name) => [...form.elements].filter((f) => f.name === name && f.type !== "radio");
  const fill = (name, value) => {
    for (const f of fields(name)) if (f.type === "checkbox") f.checked = f.value === value; else f.value = value;
    if (name === "hide") hide();
  };
  // settle writes what had to wait until nobody types in its field.
  const settle = () => {
    for (const [name, [was, now]] of late) {
      if (document.activeElement?.name === name) continue;
      if (fields(name)[0]?.value === was) fill(name, now);
      late.delete(name);
    }
  };
  const hide = () => form.classList.toggle("hides", document.getElementById("hide").checked);

  // hear writes what others have changed into the fields, and asks where both
  // have. Where a field has moved on since it was sent, the page goes on with
  // the version that it has: the next answer tells again.
  const hear = (news, sent, at) => {
    const was = new URLSearchParams(sent), same = (name) => (new URLSearchParams(body()).get(name) ?? "") === (was.get(name) ?? "");
    const others = [...news.querySelectorAll("[data-other]")].filter((o) => fields(o.dataset.other).length);
    const clashes = news.querySelector("[data-clashes]");
    if (clashes) ask(clashes, news);
    else asks.replaceChildren();
    if (others.some((o) => !same(o.dataset.other))) return;
    for (const o of others) {
      if (document.activeElement?.name === o.dataset.other) late.set(o.dataset.other, [was.get(o.dataset.other), o.value]);
      else fill(o.dataset.other, o.value);
    }
    const heard = news.querySelector("[data-hearing]");
    if (heard) form.querySelector("[data-hearing]").replaceChildren(...heard.childNodes);
    if (clashes) return;
    version.value = news.dataset.news;
    if (news.hasAttribute("data-rows") && typed === at) { draft.drop(); leaving = true; location.reload(); }
  };

  // ask lets somebody choose between two answers; the choice is saved like any
  // other answer.
  const ask = (clashes, news) => {
    const chosen = new Map([...asks.querySelectorAll("input:checked")].map((i) => [i.name, i.value]));
    for (const i of clashes.querySelectorAll("[type=radio]")) i.checked = chosen.get(i.name) === i.value;
    const first = !asks.hasChildNodes();
    asks.replaceChildren(clashes);
    if (first) clashes.querySelector("h2").focus();
    clashes.addEventListener("submit", (e) => {
      if (news.hasAttribute("data-rows")) { draft.drop(); return; }
      e.preventDefault();
      for (const i of clashes.querySelectorAll("input:checked")) fill(i.name, i.value);
      version.value = news.dataset.news;
      asks.replaceChildren();
      draft.keep();
      send();
    });
  };

  const show = (html, sent, at) => {
    judged = new URLSearchParams(sent);
    const before = places(), turned = turns() ? unfit().open : null;
    const focused = ranking.contains(document.activeElement) && document.activeElement.closest("[data-frame]")?.dataset.frame;
    const page = new DOMParser().parseFromString(html, "text/html"), news = page.querySelector("[data-news]");
    news.remove();
    shown = Date.now();
    tell(news, sent);
    const moves = ranking.querySelector(".moves")?.textContent;
    ranking.replaceChildren(...page.body.childNodes);
    const moved = ranking.querySelector(".moves");
    if (moved && !moved.textContent) moved.textContent = moves ?? "";
    if (turned !== null && unfit()) unfit().open = turned;
    if (focused) ranking.querySelector(`[data-frame="${focused}"] a`)?.focus({ preventScroll: true });
    for (const [frame, place] of places()) {
      if (before.size && before.get(frame) !== place) {
        ranking.querySelector(`[data-frame="${frame}"]`).classList.add("moved");
      }
    }
    peek.firstElementChild.textContent = about().summary;
    peek.lastElementChild.textContent = moved?.textContent ?? "";
    document.dispatchEvent(new Event("ranked"));
    hear(news, sent, at);
    mark();
  };

  // tell says each step in its line, and at each field what was understood. It
  // waits for a finger to lift, as mark does.
  const tell = (news, sent) => {
    if (pressing) { untold = () => tell(news, sent); return; }
    const was = new URLSearchParams(sent), reads = new Map([...news.querySelectorAll("[data-read]")].map((p) => [p.dataset.read, p.textContent]));
    for (const p of news.querySelectorAll("[data-said]")) form.querySelector(`[data-says="${p.dataset.said}"]`).textContent = p.textContent;
    for (const p of form.querySelectorAll("[data-reads]")) {
      const name = p.dataset.reads;
      p.textContent = (fields(name)[0]?.value ?? "") === (was.get(name) ?? "") && reads.get(name) || "";
    }
  };

  // mark shows what is wrong at its field: where something was typed, and
  // everywhere once the frames were asked for; but not what was wrong before
  // the last key, nor while somebody types. It waits for a finger to lift, lest the page move under it.
  const mark = () => {
    if (pressing) return;
    const faults = new Map([...ranking.querySelectorAll("[data-fault]")].map((p) => [p.dataset.fault, p.textContent]));
    for (const slot of form.querySelectorAll("[data-error-for]")) {
      const field = document.getElementById(slot.dataset.errorFor);
      const input = field?.matches("input, select") ? field : null;
      const typing = input === document.activeElement && input?.matches("[type=text]") && Date.now() - lastKey < pause;
      const stale = input && input.type !== "checkbox" && judged.get(input.name) !== input.value;
      const due = !input || !typing && !stale && (insists || input.value !== "");
      const text = due ? faults.get(slot.dataset.errorFor) || "" : "";
      slot.textContent = text;
      if (!input) continue;
      slot.parentElement.classList.toggle("bad", text !== "");
      if (text) input.setAttribute("aria-invalid", "true"); else input.removeAttribute("aria-invalid");
    }
    for (const s of steps) s.classList.toggle("mend", s.querySelector(".bad") !== null);
  };

  const send = async (unsent) => {
    clearTimeout(timer);
    if (leaving) return;
    if (sending) { again = waiting === null; return; }
    sending = true;
    const sent = typeof unsent === "string" ? unsent : body(), at = typed, act = doing;
    doing = "";
    if (Date.now() - shown > reading) since = version.value;
    let status = 0;
    try {
      const answer = await fetch(form.dataset.live, { method: "POST", body: sent + "&since=" + since + (act && "&do=" + encodeURIComponent(act)), signal: AbortSignal.timeout(15000),
        headers: { "Content-Type": "application/x-www-form-urlencoded" } });
      status = answer.status;
      if (!answer.ok && status !== 409) throw new Error(status);
      show(await answer.text(), sent, at);
      if (status === 409) {
        draft.keep();
        waiting = null;
        say("One answer is not saved: somebody else has changed it too. Choose above which one counts.", true);
      } else {
        if (typed === at) draft.drop(); else draft.keep();
        say("Saved. " + (ranking.querySelector(".moves")?.textContent || about().summary + "."));
      }
    } catch {
      draft.keep();
      say({ 403: "Not saved yet: nobody is signed in any more. Kept on this tablet. Sign in, then open this page again.",
        404: "Not saved: this consultation was erased. Kept on this tablet until you sign out.",
        507: "Not saved yet: the disk of the shop’s computer is full. Kept on this tablet and sent again soon. Make room there.",
        503: "Not saved yet: the shop’s computer cannot write just now. Kept on this tablet and sent again soon." }[status]
        || "Not saved yet: no answer from the shop’s computer. Kept on this tablet and sent again soon.", true);
      timer = setTimeout(send, 5000);
    }
    sending = false;
    const button = waiting;
    waiting = null;
    answered = status === 200;
    if (button && (answered || navigator.onLine)) form.requestSubmit(button);
    else if (again || doing) { again = false; send(); }
  };

  // A month may be told by the device's own wheel as well, where it has one. It
  // opens at the field, and writes there what is chosen. The first wheel takes the
  // browser a while, to find out as well whether there is one: so that waits for
  // the step with the field, and every wheel until it is asked for.
  let wheels;
  const wheeled = () => wheels ??= "showPicker" in HTMLInputElement.prototype && Object.assign(document.createElement("input"), { type: "month" }).type === "month";
  const wheelOf = (field) => {
    const wheel = document.createElement("input");
    wheel.type = "month";
    wheel.className = "wheel";
    wheel.tabIndex = -1;
    wheel.setAttribute("aria-hidden", "true");
    field.after(wheel);
    wheel.addEventListener("input", (e) => e.stopPropagation());
    wheel.addEventListener("change", (e) => {
      e.stopPropagation();
      if (!wheel.value) return;
      const [year, month] = wheel.value.split("-");
      field.value = Number(month) + "." + year;
      for (const told of ["input", "change"]) field.dispatchEvent(new Event(told, { bubbles: true }));
    });
    return wheel;
  };
  const pickOf = (field) => {
    const pick = document.createElement("button");
    let wheel;
    pick.type = "button";
    pick.className = "pick";
    pick.innerHTML = 'pick<span class="sr"> the month: </span>';
    pick.lastChild.append(field.labels[0].textContent.trim());
    field.after(pick);
    pick.addEventListener("click", () => {
      wheel ??= wheelOf(field);
      settle(); // keys come before what waits for the field to be left
      const told = /^(\d{1,2})\.(\d{4})$/.exec(field.value);
      wheel.value = told ? told[2] + "-" + told[1].padStart(2, "0") : new Date().toISOString().slice(0, 7);
      try { wheel.showPicker(); } catch { field.focus(); }
    });
  };
  for (const s of steps) {
    const months = s.querySelectorAll("[data-month]"), pick = () => { if (wheeled()) months.forEach(pickOf); };
    if (months.length && s.open) addEventListener("load", () => setTimeout(pick));
    else if (months.length) s.addEventListener("toggle", pick, { once: true });
  }

  // know unticks "don't know yet" where somebody types an answer after all.
  const know = (name) => {
    for (const box of form.querySelectorAll("[name=unknown]:checked")) {
      if (name === box.value || name.startsWith(box.value + ".") || name.startsWith(box.value + "[")) box.checked = false;
    }
  };

  form.addEventListener("input", (e) => {
    if (e.target.form !== form) return;
    typed++;
    if (e.target.name !== "unknown" && e.target.value !== "") know(e.target.name);
    draft.keep();
    clearTimeout(timer);
    timer = setTimeout(send, 350);
    lastKey = Date.now();
    clearTimeout(pausing);
    pausing = setTimeout(mark, pause);
  });
  form.addEventListener("change", (e) => { if (e.target.form !== form) return; if (e.target.id === "hide") hide(); if (e.target.id === "units") form.requestSubmit(form.querySelector(".js-hide")); else send(); });
  form.addEventListener("focusout", () => setTimeout(() => { settle(); mark(); }));
  window.addEventListener("pointerdown", () => { pressing = true; });
  for (const lifted of ["pointerup", "pointercancel"]) {
    window.addEventListener(lifted, () => { pressing = false; setTimeout(() => { untold?.(); untold = null; mark(); }); });
  }
  window.addEventListener("online", send);

  // A button waits for what is being sent: the newest answers have to come last.
  // Where the browser believes that there is no network, they are sent first: the
  // shop's computer may be this one, or be reached all the same.
  form.addEventListener("submit", (e) => {
    clearTimeout(timer);
    if (document.activeElement?.id === "line" && e.submitter?.matches(".default")) { // Enter
      e.preventDefault();
      quick("hear");
      return;
    }
    if (sending || !navigator.onLine && !answered) {
      e.preventDefault();
      waiting = e.submitter;
      send();
      return;
    }
    answered = false;
    draft.keep();
    try { sessionStorage.setItem("sent", draft.key); } catch { /* then it is sent twice, which changes nothing */ }
    leaving = true;
    setTimeout(() => { leaving = false; }, 15000);
  });

  // What was not acknowledged goes first: answers from before the tablet slept
  // or the network dropped, and those that could not be saved.
  const kept = draft.read();
  if (form.hasAttribute("data-unsaved")) {
    draft.keep();
    timer = setTimeout(send, 5000);
  } else if (kept) {
    restore(kept);
    send(kept);
  }
  (form.querySelector("[aria-invalid]") || form.querySelector(".alert"))?.focus();
}

