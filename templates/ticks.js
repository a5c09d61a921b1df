"use strict";
// Keeps what is ticked in this browser, by the plan, the label of a box and how often it came before. Nothing is sent.
(function () {
  const key = "finplan ticks " + document.body.dataset.plan;
  const seen = {};
  let kept = {};
  try {
    kept = JSON.parse(localStorage.getItem(key)) || {};
  } catch {
    // Nothing is kept here: a box can be ticked all the same.
  }
  for (const box of document.querySelectorAll("input.box")) {
    const label = box.getAttribute("aria-label");
    seen[label] = (seen[label] || 0) + 1;
    const name = label + " " + seen[label];
    box.checked = kept[name] === true;
    box.addEventListener("change", function () {
      if (box.checked) {
        kept[name] = true;
      } else {
        delete kept[name];
      }
      try {
        localStorage.setItem(key, JSON.stringify(kept));
      } catch {
        // As above.
      }
    });
  }
})();
