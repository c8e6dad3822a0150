// What was typed into a form and not saved is kept in this browser, and offered when its sheet is opened again.

const DAYS = 7 * 24 * 3600 * 1000;
const BEGINS = "unsaved ";
const MOST = 200000; // letters of one form; what is longer is not kept
const person = document.body.dataset.person;
const came = performance.getEntriesByType("navigation")[0];
// a form was sent, and the shop sent on to this sheet: it was saved
const saved = came?.redirectCount > 0;
// the sheet itself holds what was typed, with what is wrong with it
const refused = came?.responseStatus >= 400;
const forms = person ? [...document.querySelectorAll("main form[method=post]")] : [];

const all = () => Object.keys(localStorage).filter((name) => name.startsWith(BEGINS));
const read = (name) => {
  try {
    return JSON.parse(localStorage.getItem(name));
  } catch {
    return null;
  }
};
const keep = (name, kept) => {
  const text = JSON.stringify(kept);
  try {
    if (text.length <= MOST) localStorage.setItem(name, text);
  } catch {
    // the browser's room is full: the form itself still has it
  }
};
const forget = (name) => localStorage.removeItem(name);
const nameOf = (form) => {
  const to = (one) => new URL(one.getAttribute("action") || location.pathname, location.href).pathname;
  const alike = forms.filter((other) => to(other) === to(form));
  return `${BEGINS}${person} ${location.pathname} ${to(form)} ${alike.indexOf(form)}`;
};

const UNKEPT = ["hidden", "password", "file", "submit"];
const fieldsOf = (form) => [...form.elements].filter((one) => one.name
  && (one.matches("textarea, select") || (one.matches("input") && !UNKEPT.includes(one.type))));
const ticks = (one) => one.type === "checkbox" || one.type === "radio";
const now = (one) => (ticks(one) ? one.checked : one.value);
const before = (one) => {
  if (ticks(one)) return one.defaultChecked;
  if (one.matches("select")) return ([...one.options].find((line) => line.defaultSelected) ?? one.options[0])?.value;
  return one.defaultValue;
};
const asKept = (one) => ({ name: one.name, of: ticks(one) ? one.value : null, value: now(one) });
const found = (form, kept) => fieldsOf(form).find((one) => one.name === kept.name && (kept.of === null || one.value === kept.of));

/** Asks above the form: nothing is put over what stands there unseen. */
const offer = (form, name, kept, fields) => {
  const [block, words, back, away] = ["div", "p", "button", "button"].map((tag) => document.createElement(tag));
  const when = new Date(kept.at).toLocaleString([], { dateStyle: "medium", timeStyle: "short" });
  block.className = "note unsaved";
  block.setAttribute("role", "status");
  words.textContent = `${fields.length === 1 ? "1 field was" : `${fields.length} fields were`} filled in here on ${when} and not saved.`;
  [back.type, away.type, back.textContent, away.textContent] = ["button", "button", "Put it back", "Forget it"];
  back.addEventListener("click", () => {
    for (const one of fields) {
      const field = found(form, one);
      if (ticks(field)) field.checked = one.value;
      else field.value = one.value;
      for (let fold = field.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
    }
    block.remove();
    form.dispatchEvent(new Event("input", { bubbles: true }));
  });
  away.addEventListener("click", () => { forget(name); block.remove(); });
  block.append(words, back, away);
  form.before(block);
};

/** Offers what is kept of a form; gives what of it the sheet holds already and is still not saved. */
const begin = (form, name) => {
  const kept = read(name);
  if (!kept) return [];
  const other = kept.fields.filter((one) => found(form, one) && now(found(form, one)) !== one.value);
  if (other.length) offer(form, name, kept, other);
  else if (!refused) forget(name);
  return other.length || !refused ? [] : kept.fields;
};

const watch = (form) => {
  const name = nameOf(form);
  const held = begin(form, name);
  const typed = () => fieldsOf(form)
    .filter((one) => now(one) !== before(one) || held.some((old) => found(form, old) === one))
    .map(asKept);
  const put = (sent) => {
    const fields = typed();
    if (fields.length) keep(name, { at: Date.now(), fields, sent });
    else forget(name);
  };
  let waiting = 0;
  form.addEventListener("input", () => {
    clearTimeout(waiting);
    waiting = setTimeout(put, 300, false);
  });
  form.addEventListener("submit", () => {
    clearTimeout(waiting);
    put(true);
  });
};

for (const name of all()) {
  const kept = read(name);
  if (!kept || Date.now() - kept.at > DAYS || (person && saved && kept.sent)) forget(name);
  // nobody is signed in any more: what was sent did not arrive
  else if (!person && kept.sent) keep(name, { ...kept, sent: false });
}
forms.forEach(watch);
// a person who signs out leaves nothing to the next
document.querySelector("form[action='/sign-out']")?.addEventListener("submit", () => all().forEach(forget));
