// Taps on the floor: kept on the tablet until the server has them, sent in their order, each recorded once there.
"use strict";

const SHELF = "tyrewright:taps";
let sending = false;

const waiting = () => JSON.parse(localStorage.getItem(SHELF) || "[]");
const keep = (taps) => { localStorage.setItem(SHELF, JSON.stringify(taps)); tellWaiting(taps.length); };

function tellWaiting(count) {
  const box = document.getElementById("waiting");
  box.hidden = count === 0;
  box.textContent = count === 1 ? box.dataset.one : `${box.dataset.many} ${count}`;
}

function add(button, words) {
  const floor = document.getElementById("floor");
  const tap = { key: crypto.randomUUID ? crypto.randomUUID() : `${Date.now()}-${Math.random()}`, to: floor.dataset.tap, action: button.dataset.tapAction, job: button.dataset.job, stage: button.dataset.stage, at: String(Date.now()), words: words || "" };
  keep([...waiting(), tap]);
  button.disabled = true;
  button.closest(".tyre-card").classList.add("tap-waits");
  send();
}

async function send() {
  if (sending) return;
  sending = true;
  try {
    while (waiting().length) {
      const tap = waiting()[0];
      const headers = JSON.parse(document.body.getAttribute("hx-headers"));
      const answer = await fetch(tap.to, { method: "POST", headers: { ...headers, "Idempotency-Key": tap.key }, body: new URLSearchParams(tap), redirect: "manual" });
      if (answer.status >= 500 || answer.type === "opaqueredirect") break;
      const words = (await answer.json()).words;
      if (words) say(words, answer.ok ? "good" : "bad");
      keep(waiting().filter((each) => each.key !== tap.key));
    }
    if (!waiting().length) document.body.dispatchEvent(new Event("taps-sent"));
  } catch {
    tellWaiting(waiting().length); // no network: the next try comes by itself
  } finally {
    sending = false;
  }
}

let asked = null;
document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-tap-action]");
  if (!button) return;
  if (button.dataset.tapAction !== "problem") { add(button); return; }
  asked = button;
  document.getElementById("problem-dialog").showModal();
});
document.addEventListener("DOMContentLoaded", () => {
  tellWaiting(waiting().length);
  document.getElementById("problem-form").addEventListener("submit", () => {
    const field = document.getElementById("problem-words");
    add(asked, field.value);
    field.value = "";
  });
  send();
});
window.addEventListener("online", send);
setInterval(send, 5000);
// While taps wait, the list from the server would show the old state again; a choice being made is not disturbed either.
document.addEventListener("htmx:beforeRequest", (event) => { if (event.target.id === "floor-body" && (waiting().length || event.target.querySelector("select:focus"))) event.preventDefault(); });
