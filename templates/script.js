"use strict";
// What this script and that of the card share.
const byId = (id) => document.getElementById(id);
const all = (selector, within = document) => [...within.querySelectorAll(selector)];
const { abs, floor, max, min, round } = Math;
const page = document.body.dataset;
const shelf = "moveplan/" + page.plan + "/";
const load = (name, otherwise) => {
  try {
    return JSON.parse(localStorage.getItem(shelf + name)) ?? otherwise;
  } catch (unreadable) {
    return otherwise;
  }
};
const keep = (name, value) => {
  try {
    localStorage.setItem(shelf + name, JSON.stringify(value));
    return true;
  } catch (full) {
    byId("storage-refused")?.removeAttribute("hidden");
  }
};
const onClick = (button, what) => button?.addEventListener("click", what);
const made = (tag, textContent = "", more = {}) => Object.assign(document.createElement(tag), { textContent, ...more });
const MINUTE = 60000;
const clock = (() => {
  const hours = { hour: "2-digit", minute: "2-digit" };
  try {
    return new Intl.DateTimeFormat(page.locale, { ...hours, timeZone: page.zone });
  } catch (unknown) {
    return new Intl.DateTimeFormat(undefined, hours);
  }
})();
// A time field gives the last such minute; empty, it gives now.
const hours = new Intl.DateTimeFormat("en-GB", { hour: "2-digit", minute: "2-digit", timeZone: page.zone });
let clockAhead = 0;
const nowMinute = () => floor(Date.now() / MINUTE) - clockAhead;
const minuteSaid = (field) => {
  const now = nowMinute();
  for (let minute = now; field.value && minute > now - 720; minute -= 1) {
    if (hours.format(new Date(minute * MINUTE)) === field.value) return minute;
  }
  return field.value ? null : now;
};
(() => {
  const plan = page.plan;
  // What stands many times is written once: here it is put in wherever it belongs.
  for (const link of all(".same")) {
    const text = byId(link.hash.slice(1)).cloneNode(true);
    text.removeAttribute("id");
    link.replaceWith(text);
  }
  for (const alike of all(".alike")) {
    const label = alike.parentElement;
    alike.remove();
    for (const number of alike.querySelector("b").textContent.split(" ").reverse()) {
      const other = label.cloneNode(true);
      other.querySelector(".big text").textContent = number;
      label.after(other);
    }
  }
  for (const knot of all(".knot")) {
    const title = document.createElementNS(knot.namespaceURI, "title");
    title.textContent = byId(knot.getAttribute("href").slice(1)).querySelector("label, .tick").textContent.trim();
    knot.prepend(title);
  }
  for (const box of all(".task input")) box.dataset.task = box.closest(".task").id.slice(5);
  const boxes = all("input[data-task]");
  // The ticks of the run sheets are those of the list.
  const taskOf = (line) => line.querySelector('a[href^="#task-"]').hash.slice(6);
  const alike = all(".run input").map((box) => ({ box, first: boxes.find((one) => one.dataset.task === taskOf(box.closest("li"))) }));
  for (const { box, first } of alike) box.addEventListener("change", () => first?.click());

  // What is kept: one record of ticks. Nothing is shown as kept that is not.
  const keeps = keep("probe", 1) && load("probe") === 1;
  if (keeps) localStorage.removeItem(shelf + "probe");
  const read = (name) => {
    const found = load(name, {});
    return typeof found === "object" && !Array.isArray(found) ? found : {};
  };
  const ticks = read("ticks");
  const keyOf = (box) => box.dataset.task + (box.dataset.time ? "#" + box.dataset.time : "");

  // A moment with the offset of this device, to the second.
  const stamp = (date) => {
    const off = -date.getTimezoneOffset();
    const two = (number) => String(floor(abs(number))).padStart(2, "0");
    const local = new Date(date.getTime() + off * 60000).toISOString().slice(0, 19);
    return local + (off < 0 ? "-" : "+") + two(off / 60) + ":" + two(off % 60);
  };

  // Where it says when it was done: made where it is first needed.
  const doneAt = (item) => {
    const place = item.querySelector(".facts") || item.querySelector("label");
    const words = place.querySelector(".done-at") || made("span");
    if (!words.className) {
      words.className = "done-at";
      place.append(" ", words);
    }
    return words;
  };
  const showBox = (box) => {
    const at = ticks[keyOf(box)];
    if (!box.disabled) box.checked = Boolean(at);
    const item = box.closest("li");
    if (item) doneAt(item).textContent = at ? "done " + clock.format(new Date(at)) : "";
    const task = box.closest(".task");
    if (task) task.classList.toggle("done", [...task.querySelectorAll("input[data-task]")].every((one) => one.checked));
  };
  const showSum = () => {
    const done = boxes.filter((box) => box.checked).length;
    const words = byId("progress-words");
    if (words) words.textContent = done + " of " + boxes.length + " done" + (keeps ? ", kept in this browser." : ", not kept.");
    for (const { box, first } of alike) box.checked = Boolean(first?.checked);
    showNext();
    filter();
  };
  const filter = () => {
    const person = byId("only-person")?.value || "";
    const hideDone = byId("hide-done")?.checked;
    for (const task of all(".task")) {
      const theirs = !person || task.dataset.who.split(" ").includes(person);
      task.hidden = !theirs || (hideDone && task.classList.contains("done"));
    }
    for (const part of all(".day-list, .part, .phase")) part.hidden = !part.querySelector(".task:not([hidden])");
  };
  // What the card says stands on the first screen; where nothing is recorded the first open task, of a moving day its first.
  const next = byId("next-task");
  const showNext = () => {
    const open = all(".task:not(.done):not(.dropped)").filter((one) => one.dataset.who && one.querySelector("input:not(:checked)"));
    const day = all("[id^=list-moving] .day-list").find((one) => abs(nowMinute() - one.dataset.start - 360) < 720);
    const told = byId("task-" + page.first);
    const earlier = told || !day ? 0 : max(open.findIndex((one) => day.contains(one)), 0);
    const task = told || open[earlier];
    if (!next || !task || !(told || day || boxes.some((box) => box.checked))) return;
    next.href = "#" + task.id;
    next.textContent = task.closest(".day-list")?.querySelector("summary b")?.textContent + ", " + task.querySelector("label span")?.textContent.trim() + (earlier ? "; " + earlier + (earlier > 1 ? " earlier tasks are" : " earlier task is") + " not ticked" : "");
  };
  for (const box of boxes) {
    box.addEventListener("change", () => {
      if (box.checked) ticks[keyOf(box)] = stamp(new Date());
      else delete ticks[keyOf(box)];
      keep("ticks", ticks);
      showBox(box);
      showSum();
      document.dispatchEvent(new CustomEvent("moveplan:tick", { detail: { key: keyOf(box), at: ticks[keyOf(box)] } }));
    });
    showBox(box);
  }
  // What the card records is ticked here too.
  document.addEventListener("moveplan:done", (event) => {
    let changed = false;
    for (const box of boxes) {
      const key = keyOf(box);
      if (!(key in event.detail)) continue;
      const at = event.detail[key];
      if (at === undefined ? !(key in ticks) : floor(Date.parse(ticks[key]) / 60000) === at) continue;
      if (at === undefined) delete ticks[key];
      else ticks[key] = stamp(new Date(at * 60000));
      showBox(box);
      changed = true;
    }
    if (!changed) return showNext();
    keep("ticks", ticks);
    showSum();
  });
  // Phase by phase: the same tasks in another order; and back again.
  const byDate = all(".by-date .tasks").map((list) => ({ list, tasks: [...list.children] }));
  const phases = all("#phases li").map((one) => one.textContent);
  const byPhase = document.querySelector(".by-phase");
  const phaseOf = byPhase?.dataset.of.split(" ");
  const listed = all(".task");
  const order = byId("grouping");
  const arrange = () => {
    const phased = order?.value === "phase";
    document.querySelector(".by-date")?.toggleAttribute("hidden", phased);
    if (byPhase) byPhase.hidden = !phased;
    if (!phased) for (const { list, tasks } of byDate) list.append(...tasks);
    if (!phased || byPhase.childElementCount) byPhase?.replaceChildren();
    for (const [number, name] of phased ? phases.entries() : []) {
      const part = made("details", "", { className: "phase", open: true });
      const list = made("ul", "", { className: "tasks" });
      part.append(made("summary", name), list);
      for (const { list: day, tasks } of byDate) {
        const own = tasks.filter((task) => Number(phaseOf[listed.indexOf(task)]) === number);
        const date = day.closest("details").querySelector("summary b").textContent;
        if (own.length) list.append(made("li", date, { className: "date" }), ...own);
      }
      byPhase.append(part);
    }
    filter();
  };
  const view = read("view");
  for (const [name, key] of [["only-person", "value"], ["hide-done", "checked"], ["grouping", "value"]]) {
    const field = byId(name);
    if (!field) continue;
    if (name in view) field[key] = view[name];
    field.addEventListener("change", () => {
      view[name] = field[key];
      keep("view", view);
      arrange();
    });
  }
  onClick(byId("unfold"), (event) => {
    const open = event.target.getAttribute("aria-pressed") !== "true";
    event.target.setAttribute("aria-pressed", String(open));
    for (const day of all(".day-list")) day.open = open;
  });
  // What a link leads to is unfolded; today's list stands open.
  const unfold = () => {
    const aim = location.hash && byId(decodeURIComponent(location.hash.slice(1)));
    if (!aim) return;
    for (let part = aim; part; part = part.parentElement) if (part.tagName === "DETAILS") part.open = true;
    aim.scrollIntoView();
  };
  window.addEventListener("hashchange", unfold);
  const now = Date.now() / 60000;
  const today = all(".day-list").filter((day) => abs(day.dataset.start - now) < 720);
  for (const day of today) day.open = true;
  // A line of a run sheet opens its steps, read from the list.
  const fill = (sheet) => {
    for (const line of sheet.querySelectorAll(".run > li:has(label):not(:has(details))")) {
      const steps = byId("task-" + taskOf(line))?.querySelector(":scope > ol");
      if (!steps) continue;
      const fold = made("details");
      fold.append(made("summary", "Steps"), steps.cloneNode(true));
      line.querySelector("a[href]").hidden = true;
      line.append(fold);
    }
  };
  for (const sheet of all("details.sheet")) sheet.addEventListener("toggle", () => sheet.open && fill(sheet));
  // Where there are many, one link leads to whoever is chosen.
  const whose = byId("whose");
  whose?.removeAttribute("hidden");
  whose?.addEventListener("change", ({ target }) => {
    const link = whose.nextElementSibling.firstChild;
    link.textContent = target.selectedOptions[0].textContent;
    link.hash = target.selectedIndex ? "sheet-" + target.value : "sheets";
  });
  // A person's name leads to their present task on the day, else to their run sheet.
  for (const link of all("a[data-person]")) {
    onClick(link, (event) => {
      const card = byId("card-person");
      const place = card && [...card.options].findIndex((one) => one.textContent === link.textContent.trim());
      if (!card || card.disabled || place < 0) return;
      card.value = card.options[place].value;
      card.dispatchEvent(new Event("change"));
      if (!all(".sheet").some((one) => abs(one.dataset.start - Date.now() / 60000) <= 1440)) return;
      event.preventDefault();
      location.hash = "#now";
    });
  }

  onClick(byId("save-progress"), () => {
    const records = boxes.filter((box) => ticks[keyOf(box)]).map((box) => ({
      task: box.dataset.task,
      ...(box.dataset.time ? { time: Number(box.dataset.time) } : {}),
      state: "COMPLETED",
      at: ticks[keyOf(box)],
    }));
    const containers = {};
    for (const { dataset } of all("tr.animal[data-lids]")) {
      const lids = Object.entries(JSON.parse(dataset.lids)).map(([edge, at]) => [edge, stamp(new Date(at * MINUTE))]);
      if (lids.length) containers[dataset.key] = Object.fromEntries(lids);
    }
    const text = JSON.stringify({ format: 1, plan, saved: stamp(new Date()), records, containers, animals: JSON.parse(page.animals || "[]") }, null, 1) + "\n";
    const link = made("a");
    link.href = URL.createObjectURL(new Blob([text], { type: "application/json" }));
    link.download = "progress.json";
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 1000);
  });

  // In the picture of the day a line stands where the clock does.
  const showNow = () => {
    const now = Date.now() / 60000;
    for (const line of all(".now-line")) {
      const { from, until, top } = line.dataset;
      line.setAttribute("visibility", now >= from && now <= until ? "visible" : "hidden");
      line.setAttribute("transform", "translate(0 " + (Number(top) + now - from) + ")");
    }
  };
  showNow();
  setInterval(showNow, 20000);

  // The screen stays on while the page is in front, where the browser can do that.
  const awake = byId("stay-awake");
  let lock = null;
  const holdScreen = async () => {
    try {
      lock = await navigator.wakeLock.request("screen");
    } catch (refused) {
      awake.setAttribute("aria-pressed", "false");
    }
  };
  if (awake && "wakeLock" in navigator) {
    awake.hidden = false;
    onClick(awake, async () => {
      const on = awake.getAttribute("aria-pressed") !== "true";
      awake.setAttribute("aria-pressed", String(on));
      if (on) await holdScreen();
      else await lock?.release();
    });
    document.addEventListener("visibilitychange", () => {
      if (!document.hidden && awake.getAttribute("aria-pressed") === "true") holdScreen();
    });
  }

  for (const button of all("button[data-print]")) {
    onClick(button, () => {
      page.print = button.dataset.print;
      if ("only" in button.dataset) {
        page.only = "";
        button.closest(".sheet, .load").classList.add("chosen");
      }
      window.print();
    });
    button.hidden = false;
  }
  let folded = [];
  window.addEventListener("beforeprint", () => {
    all("details.sheet").forEach(fill);
    folded = all("details:not(.links):not([open])");
    for (const part of folded) part.open = true;
  });
  window.addEventListener("afterprint", () => {
    delete page.print;
    delete page.only;
    for (const one of all(".chosen")) one.classList.remove("chosen");
    for (const part of folded) part.open = false;
  });

  // On a narrow screen a row stands as a list, each value behind the head of its column.
  for (const row of all(".stack tbody tr:not(.note)")) {
    const heads = row.closest("table").tHead.rows[0].cells;
    for (const cell of all("td", row)) cell.dataset.head = heads[cell.cellIndex].textContent;
  }
  byId("no-scripts")?.setAttribute("hidden", "");
  for (const tools of all(".tools")) tools.hidden = false;
  if (!keeps) byId("storage-refused")?.removeAttribute("hidden");
  showSum();
  arrange();
  unfold();
})();
