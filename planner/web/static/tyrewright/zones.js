// A tap on the drawn tyre chooses the zone; the radio buttons stay what the keyboard and the form use.
"use strict";
document.addEventListener("click", (event) => {
  const zone = event.target.closest && event.target.closest(".zones [data-zone]");
  const radio = zone && document.querySelector(`.zones input[value="${zone.dataset.zone}"]`);
  if (radio) radio.click();
});
