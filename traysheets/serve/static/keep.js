// Keeps an entry on the phone when it cannot be sent, says so, and offers to send it again. Its key goes with it: sent
// twice, it is stored once. Without this script the form works as any form does. Its words come with the page.
"use strict";

(() => {
  const STORE = "traysheets.kept";
  const PATIENCE_MS = 15000;
  const place = document.getElementById("kept");
  const token = place.dataset.token;
  const say = JSON.parse(place.dataset.words);

  const kept = () => {
    try { return JSON.parse(localStorage.getItem(STORE)) || []; } catch { return []; }
  };
  // Whether it could be kept: a phone may be full, or forbid it.
  const keep = (list) => {
    try { localStorage.setItem(STORE, JSON.stringify(list)); return true; } catch { return false; }
  };
  const forget = (key) => keep(kept().filter((one) => one.key !== key));

  const element = (name, text, attributes = {}) => {
    const made = document.createElement(name);
    made.textContent = text;
    for (const [attribute, value] of Object.entries(attributes)) made.setAttribute(attribute, value);
    return made;
  };

  // The answer of the server, or null when it could not be reached in time.
  const send = async (path, fields) => {
    const body = new URLSearchParams(fields);
    body.set("token", token);
    const stop = new AbortController();
    const timer = setTimeout(() => stop.abort(), PATIENCE_MS);
    try {
      return await fetch(path, { method: "POST", body, signal: stop.signal, credentials: "same-origin" });
    } catch {
      return null;
    } finally {
      clearTimeout(timer);
    }
  };

  // Send as a form of the page does, so that what the server says is shown; its key makes that harmless.
  const sendAsForm = (path, fields) => {
    const form = element("form", "", { method: "post", action: path, hidden: "" });
    for (const [name, value] of fields) form.append(element("input", "", { type: "hidden", name, value }));
    const own = form.elements.namedItem("token");
    if (own) own.value = token;
    document.body.append(form);
    form.submit();
  };

  const words = (one) => {
    const value = (name) => (one.fields.find(([field]) => field === name) || [])[1] || "";
    const kind = value("strike") ? say.strike : one.kind;
    return [one.batch, kind, value("number"), value("day")].filter(Boolean).join(" · ");
  };

  const show = (message) => {
    const list = kept();
    place.replaceChildren();
    if (!list.length && !message) return;
    const box = element("div", "", { class: "kept", role: "alert" });
    box.append(element("p", message || say.only_here));
    const items = element("ul", "");
    for (const one of list) {
      const item = element("li", "");
      item.append(element("b", words(one)));
      const row = element("div", "", { class: "row" });
      const again = element("button", say.again, { type: "button" });
      again.addEventListener("click", () => resend(one));
      const drop = element("button", say.drop, { type: "button" });
      drop.addEventListener("click", () => { forget(one.key); show(); });
      row.append(again, drop);
      item.append(row);
      items.append(item);
    }
    box.append(items);
    place.append(box);
    box.scrollIntoView({ block: "nearest" });
  };

  const resend = async (one) => {
    const answer = await send(one.path, one.fields);
    if (!answer) return show(say.not_sent);
    if (!answer.ok) return sendAsForm(one.path, one.fields);
    forget(one.key);
    location.assign(answer.url);
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
    const key = (fields.find(([name]) => name === "key") || [])[1];
    const path = form.getAttribute("action");
    // A pass phrase is never kept.
    const lasting = fields.filter(([name]) => name !== "passphrase" && name !== "token");
    const value = (fields.find(([name]) => name === "kind") || [])[1];
    const label = value && document.querySelector(`label[for="kind-${CSS.escape(value)}"]`);
    const kind = label ? label.firstChild.textContent.trim() : "";
    const one = { key, path, kind, batch: form.dataset.keep, fields: [...lasting, ["token", ""]] };
    const answer = await send(path, fields);
    delete form.dataset.busy;
    if (!answer) {
      const stored = keep([...kept().filter((other) => other.key !== key), one]);
      return show(stored ? say.not_sent : say.not_kept);
    }
    forget(key);
    if (answer.ok) location.assign(answer.url);
    else sendAsForm(path, fields);
  };

  document.addEventListener("submit", submitted);
  window.addEventListener("online", () => show());
  show();
})();
