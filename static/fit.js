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
