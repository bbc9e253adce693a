// What every page needs: say what went wrong when a request fails, and open dialogs without inline handlers.
"use strict";

function say(words, level) {
  const box = document.getElementById("messages");
  const notice = document.createElement("div");
  notice.className = "notice " + level;
  const line = document.createElement("p");
  line.textContent = words;
  notice.append(line);
  box.replaceChildren(notice);
}

document.addEventListener("htmx:sendError", () => say(document.getElementById("messages").dataset.unreachable, "warn"));
document.addEventListener("htmx:beforeSwap", (event) => {
  // A refusal carries its own words; show them where the answer would have stood.
  if ([403, 404, 409, 422].includes(event.detail.xhr.status)) event.detail.shouldSwap = true;
});

document.addEventListener("click", (event) => {
  const opener = event.target.closest("[data-opens]");
  if (opener) document.getElementById(opener.dataset.opens).showModal();
  const filler = event.target.closest("[data-fills]");
  if (filler) document.getElementById(filler.dataset.fills).value = filler.dataset.value;
  const closer = event.target.closest("[data-closes]");
  if (closer) closer.closest("dialog").close();
});

document.addEventListener("focusin", (event) => {
  if (event.target.matches("[data-selects]")) event.target.select();
});

document.addEventListener("change", (event) => {
  if (event.target.closest("[data-submits]")) event.target.form.requestSubmit();
});
