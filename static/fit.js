// A button to hand the fit summary on, where the browser knows how to.
"use strict";
const share = document.querySelector("[data-share]");
if (share && navigator.share) {
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = share.dataset.share;
  button.addEventListener("click", async () => {
    try {
      await navigator.share({ title: document.title, url: location.href });
    } catch { /* they thought better of it */ }
  });
  share.append(button);
}

// What comes of a new weight moves while it is typed. Without this script, or
// without an answer, the button asks for the same on a page of its own.
const lives = document.querySelector("form[data-lives]");
if (lives) {
  const shown = document.getElementById("moved"), said = lives.querySelector("[data-said]");
  let timer, asked;
  const ask = async () => {
    clearTimeout(timer);
    asked?.abort(); // the newest figures count
    asked = new AbortController();
    try {
      const answer = await fetch(lives.action + "&part=moved", { method: "POST", body: new URLSearchParams(new FormData(lives)), signal: asked.signal });
      const read = document.createElement("template");
      read.innerHTML = await answer.text();
      const page = read.content, moved = page.getElementById("moved");
      if (!moved) throw new Error(answer.status);
      shown.replaceChildren(...moved.childNodes);
      for (const slot of lives.querySelectorAll("[data-error-for]")) {
        const name = slot.dataset.errorFor, text = page.querySelector(`[data-error-for="${name}"]`)?.textContent || "";
        slot.textContent = text;
        slot.parentElement.classList.toggle("bad", text !== "");
        if (text) document.getElementById(name).setAttribute("aria-invalid", "true"); else document.getElementById(name).removeAttribute("aria-invalid");
      }
    } catch (e) {
      if (e.name === "AbortError") return;
      const p = document.createElement("p");
      p.className = "alert";
      p.textContent = lives.dataset.failed;
      shown.replaceChildren(p);
    }
    said.textContent = (shown.querySelector(".still, .alert")?.textContent || "").trim(); // the table would be read out whole
  };
  lives.addEventListener("input", () => { clearTimeout(timer); timer = setTimeout(ask, 500); });
  lives.addEventListener("submit", async (e) => {
    e.preventDefault();
    await ask();
    (lives.querySelector("[aria-invalid]") || shown.querySelector(".still"))?.focus();
  });
}
