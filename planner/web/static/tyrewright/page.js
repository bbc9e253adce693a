// What every page needs: say what went wrong when a request fails, and open dialogs without inline handlers.
"use strict";

function noticeOf(words, level) {
  const notice = document.createElement("div");
  notice.className = "notice " + level;
  const line = document.createElement("p");
  line.textContent = words;
  notice.append(line);
  return notice;
}

const messages = () => document.getElementById("messages");
const say = (words, level) => messages().replaceChildren(noticeOf(words, level));
const sayToo = (words, level) => messages().append(noticeOf(words, level));

let signedOut = null;
function saySignedOut() {
  if (signedOut?.isConnected) return;
  signedOut = noticeOf(messages().dataset.signedOut, "bad");
  messages().append(signedOut);
}

// A lost network is said once, for as long as it is lost.
let unreachable = null;
document.addEventListener("htmx:sendError", () => {
  if (unreachable?.isConnected) return;
  unreachable = noticeOf(messages().dataset.unreachable, "warn");
  messages().append(unreachable);
});
document.addEventListener("htmx:afterRequest", (event) => { if (event.detail.xhr.status) unreachable?.remove(); });
document.addEventListener("htmx:responseError", (event) => { if (event.detail.xhr.status === 401) saySignedOut(); });

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

// The arrow keys go through a list one by one: a form that is sent at each of them would let nobody reach the third.
let byKeys = false;
document.addEventListener("keydown", () => { byKeys = true; }, true);
document.addEventListener("pointerdown", () => { byKeys = false; }, true);
document.addEventListener("change", (event) => {
  if (!byKeys && event.target.closest("[data-submits]")) event.target.form.requestSubmit();
});

// A part that is put in anew takes neither the focus from who works by keys, nor closes what they have opened.
let focusedIn = null;
let openedIn = [];
function focusKeep(element) {
  const part = element.closest("[hx-get], [hx-post], [data-keeps-focus]");
  focusedIn = { id: element.id, part: part ? part.id : "" };
}
document.addEventListener("htmx:beforeSwap", (event) => {
  const part = event.detail.target;
  openedIn = [...part.querySelectorAll("details[open][id]")].map((each) => each.id);
  const on = document.activeElement;
  if (on !== document.body && part.contains(on)) focusedIn = { id: on.id, part: part.id };
});
document.addEventListener("htmx:afterSettle", () => {
  openedIn.forEach((id) => document.getElementById(id)?.setAttribute("open", ""));
  if (focusedIn && document.activeElement === document.body) {
    const there = document.getElementById(focusedIn.id) || document.getElementById(focusedIn.part)?.querySelector("a[href], button:not([disabled]):not([hidden]), input:not([type=hidden]), select, summary, [tabindex='0']");
    there?.focus({ preventScroll: true });
  }
  if (document.activeElement !== document.body) focusedIn = null;
});

// A form that came back begins at its first fault.
document.addEventListener("DOMContentLoaded", () => {
  const fault = document.querySelector("main [aria-invalid='true']");
  if (fault) fault.focus();
});
