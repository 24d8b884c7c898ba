// The form: it shows a plan as fields, by the description of its keys, and writes the fields back into the plan.
"use strict";

const { fields: FIELDS, first: FIRST, parts: PARTS, labels: LABELS, add: ADD, name: NAME } = JSON.parse(document.getElementById("model").textContent);
const form = document.getElementById("form");
const said = document.getElementById("said");
let plan = new Map();
let number = 0;

const make = (tag, attributes = {}, ...inside) => {
  const element = document.createElement(tag);
  for (const [key, value] of Object.entries(attributes)) key in element && key !== "list" ? (element[key] = value) : element.setAttribute(key, value);
  element.append(...inside);
  return element;
};
const words = (key) => LABELS[key] ?? key.replaceAll("-", " ");

// Entries may be written as a list with ids; they become entries by id.
function byId(value) {
  if (value instanceof Map) return value;
  if (!Array.isArray(value)) return new Map();
  return new Map(value.map((row) => {
    if (!(row instanceof Map)) return [String(row), new Map()];
    const id = row.get("id") ?? "";
    row.delete("id");
    return [id, row];
  }));
}

function tidied(map, model) {
  for (const field of FIELDS[model] ?? []) {
    if (!map.has(field.key)) continue;
    const value = map.get(field.key);
    if (field.shape === "entries") {
      map.set(field.key, byId(value));
      if (field.of) for (const inner of map.get(field.key).values()) if (inner instanceof Map) tidied(inner, field.of);
    } else if (field.shape === "entry" && value instanceof Map) tidied(value, field.of);
  }
  return map;
}

// What is left empty is left out; entries by id stay, because their name says something.
function pruned(map, model) {
  const kept = new Map();
  for (const [key, value] of map) {
    const field = (FIELDS[model] ?? []).find((one) => one.key === key);
    let inner = value;
    if (value instanceof Map && field?.shape === "entry") inner = pruned(value, field.of);
    if (value instanceof Map && field?.shape === "entries") inner = new Map([...value].map(([id, one]) => [id, one instanceof Map ? pruned(one, field.of) : one]));
    const empty = inner === "" || (inner instanceof Map && inner.size === 0 && field?.shape);
    if (!empty) kept.set(key, inner);
  }
  return kept;
}

const shown = (value) => (value === undefined ? "" : typeof value === "string" ? value : yamlFlow(value));

function typed(text, field) {
  const plain = text.trim();
  if (/^[[{]/.test(plain)) return readYaml(`value: ${plain}`).get("value");
  if (field.shape === "texts" && plain.includes(",")) return plain.split(",").map((one) => one.trim()).filter(Boolean);
  return plain;
}

// A number alone takes the usual unit of what is printed.
function withUnit(text, field) {
  if (!field.units || !/^[+-]?\d+(\.\d+)?$/.test(text)) return text;
  const unit = field.units[plan.get("units") === "us" ? field.units.length - 1 : 0];
  return `${text} ${unit}`;
}

function control(map, field, id, needed) {
  const value = shown(map.get(field.key));
  if (field.shape === "choice" || field.shape === "flag") {
    const choices = field.shape === "flag" ? ["yes", "no"] : field.words;
    const known = value === "" || choices.includes(value);
    const select = make("select", { id }, ...["", ...choices, ...(known ? [] : [value])].map((one) => make("option", { value: one, textContent: one || "(as usual)" })));
    select.value = value;
    select.addEventListener("change", () => { map.set(field.key, select.value); });
    return select;
  }
  const input = make("input", { id, type: "text", value, placeholder: field.sample ? `such as ${field.sample}` : "" });
  input.isNeeded = () => field.wanted && needed();
  if (field.key === "kind") input.setAttribute("list", "kinds");
  input.addEventListener("change", () => {
    input.value = withUnit(input.value.trim(), field);
    try {
      map.set(field.key, typed(input.value, field));
      input.setCustomValidity("");
    } catch (error) {
      input.setCustomValidity(error.message);
      input.reportValidity();
    }
  });
  return input;
}

function fieldOf(map, field, path, needed = () => true) {
  if (field.shape === "entry") return group(map, field, path, needed);
  if (field.shape === "entries") return entries(map, field, path);
  const id = `f${(number += 1)}`;
  const box = control(map, field, id, needed);
  box.dataset.path = `${path}.${field.key}`;
  return make("div", { className: "field" }, make("label", { htmlFor: id, textContent: words(field.key) }), box, make("small", { textContent: field.what }));
}

// What belongs to a group that may be left out is needed only once something of the group is there.
function group(map, field, path, needed) {
  if (typeof map.get(field.key) === "string" && map.get(field.key)) return fieldOf(map, { ...field, shape: "text" }, path);
  const held = map.get(field.key) instanceof Map ? map.get(field.key) : new Map();
  map.set(field.key, held);
  const set = make("fieldset", {}, make("legend", { textContent: words(field.key) }));
  const asked = field.wanted ? needed : () => pruned(held, field.of).size > 0;
  set.append(...keys(held, field.of, `${path}.${field.key}`, [], asked));
  return set;
}

function keys(map, model, path, without = [], needed = () => true) {
  const all = FIELDS[model].filter((field) => !without.includes(field.key));
  const early = FIRST[model] ?? all.map((field) => field.key);
  const order = (field) => (early.includes(field.key) ? early.indexOf(field.key) : early.length);
  const front = all.filter((field) => early.includes(field.key) || map.has(field.key)).sort((one, other) => order(one) - order(other));
  const rest = all.filter((field) => !front.includes(field));
  const rows = front.map((field) => fieldOf(map, field, path, needed));
  if (rest.length) {
    const more = make("details", {}, make("summary", { textContent: "More" }));
    more.addEventListener("toggle", () => { if (more.open && more.children.length === 1) more.append(...rest.map((field) => fieldOf(map, field, path, needed))); });
    rows.push(more);
  }
  return rows;
}

function entries(map, field, path) {
  const held = byId(map.get(field.key));
  map.set(field.key, held);
  const here = `${path}.${field.key}`.replace(/^\./, "");
  const box = make("div", { className: "entries" });
  if (path) box.append(make("p", { textContent: words(field.key) }));
  const draw = () => {
    box.querySelectorAll(":scope > .entry").forEach((one) => one.remove());
    for (const id of held.keys()) add.before(entry(held, id, field, here, draw));
  };
  const add = make("button", { type: "button", textContent: ADD[field.key] ?? `Add to ${words(field.key)}` });
  add.dataset.add = here;
  add.addEventListener("click", () => {
    const stem = field.key.replace(/s$/, "");
    let id = stem, count = 2;
    while (held.has(id)) { id = `${stem}-${count}`; count += 1; }
    held.set(id, field.of ? new Map() : "");
    draw();
    const last = [...box.querySelectorAll(":scope > .entry")].pop();
    last.open = true;
    last.querySelector("input").focus();
  });
  box.append(add);
  draw();
  return box;
}

function entry(held, id, field, path, draw) {
  const value = held.get(id);
  const title = value instanceof Map && typeof value.get("name") === "string" ? `${id}: ${value.get("name")}` : id;
  const box = make("details", { className: "entry" }, make("summary", { textContent: title }));
  box.dataset.entry = `${path}.${id}`;
  const name = make("input", { type: "text", value: id, required: true, pattern: "[A-Za-z0-9][A-Za-z0-9._\\-]*", id: `f${(number += 1)}` });
  name.dataset.path = `${path}.${id}`;
  name.addEventListener("change", () => {
    const wanted = name.value.trim();
    if (!name.checkValidity() || (wanted !== id && held.has(wanted))) { said.textContent = "This short name is taken, or has other signs than letters, digits, dots and dashes."; name.value = id; return; }
    const rows = [...held].map(([key, one]) => [key === id ? wanted : key, one]);
    held.clear();
    rows.forEach(([key, one]) => held.set(key, one));
    const open = box.open;
    draw();
    if (open) document.querySelector(`[data-entry="${CSS.escape(`${path}.${wanted}`)}"]`).open = true;
  });
  box.append(make("div", { className: "field" }, make("label", { htmlFor: name.id, textContent: "short name" }), name));
  if (value instanceof Map && field.of) box.append(...keys(value, field.of, `${path}.${id}`));
  else box.append(fieldOf(held, { key: id, what: "", shape: "text", sample: "" }, path));
  const away = make("button", { type: "button", textContent: `Remove ${id}` });
  away.addEventListener("click", () => { held.delete(id); draw(); });
  box.append(away);
  return box;
}

function drawAll() {
  number = 0;
  const head = make("section", {}, make("h2", { textContent: "The plan" }), ...keys(plan, "PlanEntry", "", Object.keys(PARTS)));
  const parts = Object.entries(PARTS).map(([key, title]) => {
    const field = FIELDS.PlanEntry.find((one) => one.key === key);
    const part = make("section", {}, make("h2", { textContent: title }));
    if (field.shape === "entry") {
      const held = plan.get(key) instanceof Map ? plan.get(key) : new Map();
      plan.set(key, held);
      part.append(...keys(held, field.of, key));
    } else part.append(fieldOf(plan, field, ""));
    return part;
  });
  form.replaceChildren(head, ...parts);
}

function opened(text, name) {
  try {
    plan = tidied(readYaml(text), "PlanEntry");
    said.textContent = `${name} is open. Notes (lines with #) are not kept when you save.`;
  } catch (error) {
    said.textContent = `${name} cannot be read: ${error.message}. Run "moveplan check" on it.`;
    return;
  }
  drawAll();
}

function fresh() {
  const id = crypto.randomUUID?.() ?? `${Date.now()}-${Math.floor(Math.random() * 1e9)}`;
  plan = new Map([["id", id], ["title", "My reef moves"], ["purpose", "house-move"]]);
  const zone = Intl.DateTimeFormat().resolvedOptions().timeZone ?? "";
  if (zone.includes("/")) plan.set("timezone", zone);
  plan.set("places", new Map([["old", new Map()], ["new", new Map()]]));
  plan.set("systems", new Map([["reef", new Map([["tank", new Map()]])]]));
  plan.set("people", new Map([["me", new Map([["drives", "yes"], ["cares", "yes"]])], ["friend", new Map()]]));
  plan.set("vehicles", new Map([["van", new Map()]]));
  drawAll();
}

function planText() {
  document.activeElement?.blur();
  return writeYaml(pruned(plan, "PlanEntry"));
}

document.getElementById("open").addEventListener("change", async (event) => {
  const [file] = event.target.files;
  if (file) opened(await file.text(), file.name);
});
document.getElementById("save").addEventListener("click", () => {
  const text = planText();
  for (const input of form.querySelectorAll("input")) if (input.isNeeded) input.required = input.isNeeded();
  const wrong = form.querySelector("input:invalid");
  if (wrong) {
    for (let above = wrong.parentElement; above; above = above.parentElement) if (above.tagName === "DETAILS") above.open = true;
    wrong.reportValidity();
    said.textContent = "Something is missing or cannot be read; it is marked.";
    return;
  }
  const link = make("a", { href: URL.createObjectURL(new Blob([text], { type: "text/yaml" })), download: NAME });
  link.click();
  URL.revokeObjectURL(link.href);
  said.textContent = `${NAME} is saved where your browser puts files. Next: moveplan check ${NAME}`;
});
document.getElementById("show").addEventListener("click", () => {
  const box = document.getElementById("text");
  box.value = planText();
  box.hidden = false;
  box.focus();
});
form.addEventListener("submit", (event) => event.preventDefault());

const before = JSON.parse(document.getElementById("opened").textContent);
if (before) opened(before, NAME);
else fresh();
