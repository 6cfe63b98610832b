// Keeps entries on the phone that cannot be sent, says so, and offers to send them again. The key of an entry goes with
// it: sent twice, it is stored once. Once it is kept, the form is for another one, under another key. Without this
// script the form works as any form does. Its words come with the page.
"use strict";

(() => {
  const STORE = "traysheets.kept";
  const PATIENCE_MS = 15000;
  const place = document.getElementById("kept");
  const heard = document.getElementById("heard");
  const token = place.dataset.token;
  const say = JSON.parse(place.dataset.words);
  const language = document.documentElement.lang;
  const forms = () => [...document.querySelectorAll("form[data-keep]")];

  // ---- what is kept: in the phone's store, or while that is full or forbidden, as long as the page is open

  let unstored = [];
  const stored = () => {
    try { return JSON.parse(localStorage.getItem(STORE)) || []; } catch { return []; }
  };
  const store = (list) => {
    try { localStorage.setItem(STORE, JSON.stringify(list)); return true; } catch { return false; }
  };
  const kept = () => [...stored(), ...unstored];
  const forget = (key) => {
    unstored = unstored.filter((one) => one.key !== key);
    if (stored().some((one) => one.key === key)) store(stored().filter((one) => one.key !== key));
  };
  // Whether it outlasts the page.
  const keep = (one) => {
    forget(one.key);
    const lasts = store([...stored(), one]);
    if (!lasts) unstored.push(one);
    return lasts;
  };

  // ---- sending

  // The answer of the server, or why there is none.
  const send = async (path, fields) => {
    const body = new URLSearchParams(fields);
    body.set("token", token);
    const stop = new AbortController();
    const timer = setTimeout(() => stop.abort(), PATIENCE_MS);
    try {
      return { answer: await fetch(path, { method: "POST", body, signal: stop.signal, credentials: "same-origin" }) };
    } catch {
      return { why: stop.signal.aborted ? say.no_answer : say.not_sent };
    } finally {
      clearTimeout(timer);
    }
  };
  // Only the book leads on to what it has stored; a network that asks for a sign-in of its own does not.
  const isStored = (answer) => answer.ok && new URL(answer.url).searchParams.has("saved");

  // Send as a form of the page does, so that what the server says is shown; its key makes that harmless.
  const sendAsForm = (path, fields) => {
    const form = element("form", "", { method: "post", action: path, hidden: "" });
    for (const [name, value] of fields) form.append(element("input", "", { type: "hidden", name, value }));
    const own = form.elements.namedItem("token");
    if (own) own.value = token;
    document.body.append(form);
    form.submit();
  };

  // A button that works says so at once, to the eye and to the ear.
  const busy = (button, working) => {
    heard.textContent = working ? say.saving : "";
    if (!button) return;
    if (working) button.dataset.says = button.textContent;
    button.textContent = working ? say.saving : button.dataset.says;
    button.toggleAttribute("data-busy", working);
  };

  // ---- what is shown

  const element = (name, text, attributes = {}) => {
    const made = document.createElement(name);
    made.textContent = text;
    for (const [attribute, value] of Object.entries(attributes)) made.setAttribute(attribute, value);
    return made;
  };
  const button = (text, pressed) => {
    const made = element("button", text, { type: "button" });
    made.addEventListener("click", () => pressed(made));
    return made;
  };

  // A day as the pages write it, by the same pattern of the Unicode CLDR.
  const written = (iso) => {
    const on = new Date(`${iso}T12:00:00`);
    if (Number.isNaN(on.valueOf())) return iso;
    const shape = { weekday: "short", day: "numeric", month: "short", year: "numeric" };
    const parts = new Intl.DateTimeFormat(language, shape).formatToParts(on);
    const part = (type) => parts.find((one) => one.type === type).value;
    const first = on.getDate() === 1;
    const said = { EEE: part("weekday"), d: first ? place.dataset.first : part("day"), MMM: part("month"), y: part("year") };
    return place.dataset.day.replace(/'([^']*)'|EEE|MMM|d|y/g, (found, quoted) => quoted ?? said[found]);
  };

  const words = (one) => {
    const value = (name) => (one.fields.find(([field]) => field === name) || [])[1] || "";
    const what = value("strike") ? say.strike : one.kind;
    const shown = [one.batch, what, value("strike") ? "" : value("number"), written(value("day")), value("remark")];
    return shown.filter(Boolean).join(" · ");
  };
  const isInForm = (key) => forms().some((form) => form.elements.namedItem("key").value === key);

  const item = (one) => {
    const made = element("li", "");
    made.append(element("b", words(one)));
    const row = element("div", "", { class: "row" });
    if (isInForm(one.key)) made.append(element("p", say.below));
    else row.append(button(say.again, (pressed) => resend(one, pressed)));
    row.append(button(say.drop, () => { forget(one.key); show(); }));
    made.append(row);
    return made;
  };

  const show = (message) => {
    const list = kept();
    place.replaceChildren();
    if (!list.length && !message) return;
    const box = element("div", "", { class: list.length ? "kept" : "saved", role: "alert" });
    const items = element("ul", "");
    items.append(...list.map(item));
    box.append(element("p", message || say.only_here), items);
    place.append(box);
    if (message) box.scrollIntoView({ block: "start" });
  };

  // ---- the form

  const newKey = () => {
    const bytes = crypto.getRandomValues(new Uint8Array(16));
    return [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  };

  // What was sent or is kept is out of the page's forms: what is typed next is another entry.
  const renew = (key) => {
    for (const form of forms()) {
      const { key: own, number, remark } = form.elements;
      if (own.value !== key) continue;
      if (number.type === "hidden") { (form.closest(".doubts") || form).remove(); continue; }
      own.value = newKey();
      for (const field of [number, remark]) field.value = field.defaultValue = "";
      delete number.dataset.aside;
    }
  };

  const entryIn = (form, fields) => {
    const value = (name) => (fields.find(([field]) => field === name) || [])[1];
    const kind = value("kind");
    const label = kind && document.querySelector(`label[for="kind-${CSS.escape(kind)}"]`);
    // A pass phrase is never kept.
    const lasting = fields.filter(([name]) => name !== "passphrase" && name !== "token");
    return {
      key: value("key"), path: form.getAttribute("action"), kind: label ? label.firstChild.textContent.trim() : "",
      batch: form.dataset.keep, fields: [...lasting, ["token", ""]],
    };
  };

  const isTyping = () => forms().some(({ elements: { number, remark } }) =>
    number.type !== "hidden" && [number, remark].some((field) => field.value !== field.defaultValue));

  // On to the page that says it is stored, unless others would be lost with this page, or what is being typed.
  const goOn = (key, url) => {
    forget(key);
    renew(key);
    if (unstored.length || isTyping()) show(kept().length ? `${say.saved} ${say.only_here}` : say.saved);
    else location.assign(url);
  };

  const resend = async (one, pressed) => {
    if (pressed.hasAttribute("data-busy")) return;
    busy(pressed, true);
    const { answer, why } = await send(one.path, one.fields);
    busy(pressed, false);
    if (why) show(why);
    else if (isStored(answer)) goOn(one.key, answer.url);
    else sendAsForm(one.path, one.fields);
  };

  const submitted = async (event) => {
    const form = event.target;
    // A browser that does not say which button was pressed sends the form itself.
    if (!form.matches("form[data-keep]") || !("submitter" in event)) return;
    event.preventDefault();
    if (form.dataset.busy) return;
    form.dataset.busy = "1";
    const fields = [...new FormData(form)];
    const pressed = event.submitter;
    if (pressed && pressed.name) fields.push([pressed.name, pressed.value]);
    const one = entryIn(form, fields);
    busy(pressed, true);
    const { answer, why } = await send(one.path, fields);
    busy(pressed, false);
    delete form.dataset.busy;
    if (why) {
      const lasts = keep(one);
      renew(one.key);
      show(lasts ? why : say.not_kept);
    } else if (isStored(answer)) {
      goOn(one.key, answer.url);
    } else {
      // Kept until the page that says what is wrong has come, with it in its form; longer if it was kept before.
      const before = kept().find((other) => other.key === one.key);
      keep(before && !before.asked ? one : { ...one, asked: true });
      sendAsForm(one.path, fields);
    }
  };

  for (const one of kept()) if (one.asked && isInForm(one.key)) forget(one.key);
  document.addEventListener("submit", submitted);
  window.addEventListener("online", () => show());
  window.addEventListener("beforeunload", (event) => { if (unstored.length) event.preventDefault(); });
  show();
  // What is kept moves down what the server says is wrong.
  if (place.firstChild) document.querySelector("[autofocus]")?.scrollIntoView({ block: "center" });
})();
