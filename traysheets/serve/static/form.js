// The number of an entry: not asked for where its kind takes none, and brought into sight when a kind is tapped. Without
// this script the server says which kinds take no number.
"use strict";

(() => {
  const form = document.querySelector("#note form.entry");
  if (!form) return;
  const { number, remark } = form.elements;

  // A number typed before a kind that takes none is put aside, so that another tap brings it back.
  const fit = () => {
    const kind = form.querySelector("input[name=kind]:checked");
    const none = kind !== null && kind.hasAttribute("data-no-number");
    if (none === number.disabled) return;
    if (none) number.dataset.aside = number.value;
    number.value = none ? "" : number.dataset.aside || "";
    number.disabled = none;
  };

  form.addEventListener("change", fit);
  // A tap goes on to what is asked next; with the keys one is still choosing.
  form.addEventListener("click", (event) => {
    if (event.target.name !== "kind" || !event.detail) return;
    fit();
    const next = number.disabled ? remark : number;
    if (!number.disabled || event.target.value === "remark") next.focus({ preventScroll: true });
    next.closest(".field").scrollIntoView({ block: "center" });
  });
  fit();
})();
