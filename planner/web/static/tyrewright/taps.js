// Taps kept on the tablet until the server has them, sent in their order, each recorded once there.
"use strict";

const SHELF = "tyrewright:taps";
const TOLD = ["job", "stage", "damage", "technician", "tap", "safe"];
let sending = false;

const shelf = () => JSON.parse(localStorage.getItem(SHELF) || "[]");
// A tablet is shared: what somebody tapped goes on record under their own name, or waits for them.
const isOwn = (tap) => !tap.by || tap.by === document.getElementById("floor").dataset.by;
const waiting = () => shelf().filter(isOwn);
const keep = (taps) => { localStorage.setItem(SHELF, JSON.stringify(taps)); tellWaiting(); };

function tellWaiting() {
  const [own, others] = [waiting().length, shelf().length - waiting().length];
  const box = document.getElementById("waiting");
  box.hidden = own === 0;
  box.textContent = own === 1 ? box.dataset.one : `${box.dataset.many} ${own}`;
  const beside = document.getElementById("waiting-others");
  beside.hidden = others === 0;
  beside.textContent = `${beside.dataset.many} ${others}`;
}

function tapOf(button) {
  const told = Object.fromEntries(TOLD.filter((name) => name in button.dataset).map((name) => [name, button.dataset[name]]));
  if (button.dataset.person) told.technician = document.getElementById(button.dataset.person).value;
  const floor = document.getElementById("floor");
  return { key: crypto.randomUUID ? crypto.randomUUID() : `${Date.now()}-${Math.random()}`, to: floor.dataset.tap, by: floor.dataset.by, action: button.dataset.tapAction, at: String(Date.now()), ...told };
}

function add(button, told) {
  keep([...shelf(), { ...tapOf(button), ...told }]);
  focusKeep(button);
  button.disabled = true;
  const card = button.closest(".tyre-card, .tyre-card-line");
  card.classList.add("tap-waits");
  offerBack(card, button.dataset.tapAction);
  send();
}

// What was tapped by mistake can be taken back before the server has heard of it: both are then sent, in their order.
function offerBack(card, action) {
  if (!card.querySelector(`[data-undoes="${action}"]`)) return;
  for (const each of card.querySelectorAll('[data-tap-action="take-back"]')) each.hidden = each.dataset.undoes !== action;
}

async function post(tap) {
  const headers = JSON.parse(document.body.getAttribute("hx-headers"));
  return fetch(tap.to, { method: "POST", headers: { ...headers, "Idempotency-Key": tap.key }, body: new URLSearchParams(tap), redirect: "manual" });
}

async function send() {
  if (sending) return;
  sending = true;
  try {
    while (waiting().length) {
      const tap = waiting()[0];
      const answer = await post(tap);
      if (answer.type === "opaqueredirect") { saySignedOut(); break; }
      if (!answer.headers.get("Content-Type").includes("json")) break; // the server is in trouble: the tap stays
      const words = (await answer.json()).words;
      if (words && answer.ok) say(words, "good");
      else if (words) sayToo(words, "bad"); // a refusal is never wiped away by the tap behind it
      keep(shelf().filter((each) => each.key !== tap.key));
    }
    if (!waiting().length) document.body.dispatchEvent(new Event("taps-sent"));
  } catch {
    tellWaiting(); // no network: the next try comes by itself
  } finally {
    sending = false;
  }
}

document.addEventListener("DOMContentLoaded", () => { tellWaiting(); send(); });
window.addEventListener("online", send);
setInterval(send, 5000);
// While taps wait, the list from the server would show the old state again, also where it was asked for before the tap; a
// choice being made is not disturbed either.
const keepsList = (target) => target.id === "floor-body" && (waiting().length > 0 || target.querySelector("select:focus") !== null);
document.addEventListener("htmx:beforeRequest", (event) => { if (keepsList(event.target)) event.preventDefault(); });
document.addEventListener("htmx:beforeSwap", (event) => { if (keepsList(event.detail.target)) event.detail.shouldSwap = false; });
