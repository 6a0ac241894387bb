"use strict";
// What the settings would change is shown as they are typed, and nothing is
// saved by it. Without this script a button asks for the same.
const preview = document.querySelector("form[data-preview]");
if (preview) {
  const shown = document.getElementById("preview"), said = preview.querySelector("[data-said]");
  let timer, asked;
  const ask = async () => {
    asked?.abort(); // the newest figures count
    asked = new AbortController();
    try {
      const answer = await fetch(preview.dataset.to, { method: "POST", body: new URLSearchParams(new FormData(preview)), signal: asked.signal });
      if (!answer.ok) throw new Error(answer.status);
      shown.innerHTML = await answer.text();
      const faults = new Map([...shown.querySelectorAll("[data-fault]")].map((p) => [p.dataset.fault, p.textContent]));
      for (const slot of preview.querySelectorAll("[data-error-for]")) {
        const field = document.getElementById(slot.dataset.errorFor), text = faults.get(field.name) || "";
        slot.textContent = text;
        slot.parentElement.classList.toggle("bad", text !== "");
        if (text) field.setAttribute("aria-invalid", "true"); else field.removeAttribute("aria-invalid");
      }
    } catch (e) {
      if (e.name === "AbortError") return;
      shown.innerHTML = '<p class="empty">No answer from the shop’s computer. What you typed is still here.</p>';
    }
    said.textContent = shown.querySelector(".summary, .empty").textContent; // the table would be read out whole
  };
  preview.addEventListener("input", () => { clearTimeout(timer); timer = setTimeout(ask, 350); });
}

// What went wrong is read first.
document.querySelector("[data-alert]")?.focus();
