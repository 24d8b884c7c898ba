(() => {
  const block = document.getElementById("card-data");
  const card = document.getElementById("now");
  if (!block || !card) return;
  const data = JSON.parse(block.textContent);
  const ids = (data.ids = Array.from(document.querySelectorAll("li.task:not(.dropped)"), (line) => line.id.slice(5)).sort());
  const groups = data.groups;
  const things = data.things;
  const NEAR = 1440;
  const SILENT = 720;
  const CLOCKS = 2;
  // An hour of the evening before is meant while the night's work lasts; chosen. [min]
  const EVENING = 180;
  const TOLD = 120;
  const HELD = TOLD;
  const SETTLES_MS = 800;
  const KINDS_OF = ["work", "wait", "travel", "hold-point", "rest"];
  const lineOf = (i) => byId("task-" + ids[i]).querySelector("p.tick, label > span").lastChild.textContent.trim();
  const reads = (data.reads = data.waters.flatMap((water) => Object.keys(data.kinds).map((what) => what + "@" + water)).slice(0, 36));
  const tasks = data.tasks.map((row, i) => {
    const task = Object.fromEntries(row.map((value, k) => [data.fields[k], value]));
    task.kind = KINDS_OF[task.kind];
    task.number = parseInt(lineOf(i));
    task.start += data.base;
    task.finish = task.start + task.minutes + (task.beyond || 0);
    task.starts &&= task.starts.map((start) => start + data.base);
    task.after = task.after.map((tie) => (Array.isArray(tie) ? tie : [tie, 0, 0]));
    return task;
  });
  const stays = data.stays.map(([group, shut, open, from, until, low, boxes, aboard, places]) => ({ group, shut, open, from_min: from + data.base, until_min: until + data.base, low: low ?? Infinity, boxes, aboard: aboard ?? Infinity, places }));
  const tied = (i) => (parseInt(data.tied[i >> 2], 16) >> i % 4) & 1;
  const people = data.people;
  const every = [...tasks.keys()];
  const personOf = (name) => people.findIndex(([id]) => "person:" + id === name);
  for (const task of tasks) {
    [[task.hands], ...task.needs] = data.needs[task.needs] || [[task.people.length]];
    task.crew = task.people;
  }
  const part = (name) => byId("card-" + name);
  const boxRows = data.boxes.map((box) => {
    const row = made("li");
    row.dataset.container = box;
    row.append(made("b", box), " ", made("bdi"), ": ");
    return row;
  });
  card.querySelector(".boxes").append(...boxRows);
  const say = (name, text) => (part(name).textContent = text);
  const at = (minute) => clock.format(new Date(minute * MINUTE));
  // What runs by itself may run for days: an hour of another day says which.
  const dated = (minute) => {
    const [day, today] = [minute, nowMinute()].map((one) => days.format(new Date(one * MINUTE)));
    return (day === today ? "" : day + ", ") + at(minute);
  };
  const words = (minutes) => {
    const whole = abs(round(minutes));
    return (whole >= 60 ? floor(whole / 60) + " h " : "") + (whole % 60) + " min";
  };

  // A record: kind, what it is about, minute, number (time of recurring care, value, how many; else how often it was
  // taken back in that minute), person; taken back ones stay, marked so. Two
  // phones that know the same facts hold the same records, in whatever order they came.
  const KINDS = { begun: "bc", done: "de", met: "mn", "not-met": "pq", "lid-on": "st", "lid-off": "or", read: "fg", failed: "hi", works: "jk", "topped-up": "al", "air-on": "uv", "air-off": "wx", moved: "yz", lost: "01", added: "23", noted: "45", "read-in": "67" };
  const COUNTS = { lost: 1, added: -1 };
  const spots = things.filter((name) => /^(vehicle|power):/.test(name));
  const moves = data.boxes.flatMap((box) => spots.map((spot) => box + "@" + spot));
  const losses = [...new Set(stays.flatMap(({ group, boxes }) => [[""], ...boxes].map(([box]) => box + "@" + groups[group][0])))].sort();
  const notes = ["", ...data.boxes].flatMap((box) => data.troubles.map((what) => box + "@" + what));
  const about = (kind) => ({ begun: ids, done: ids, met: ids, "not-met": ids, read: reads, failed: things, works: [...things, ...notes], moved: moves, lost: losses, added: losses, noted: notes }[kind] || data.boxes);
  const idOf = (one) => [one.kind, one.name, one.at, one.time, one.who].join("|");
  const sound = (one) => one && KINDS[one.kind] && about(one.kind).includes(one.name) && Number.isInteger(one.at);
  let log = load("records", []);
  log = Array.isArray(log) ? log.filter(sound) : [];
  const recurs = (name) => tasks[ids.indexOf(name)]?.starts;
  // By a clock that is ahead things have happened by now.
  const live = () => {
    const sorted = log.filter((one) => !one.back).sort((one, other) => one.at - other.at || (idOf(one) < idOf(other) ? -1 : 1));
    return sorted.map((one) => ({ ...one, at: min(one.at, nowMinute()), said: one }));
  };
  const merge = (rows) => {
    const known = new Map(log.map((one) => [idOf(one), one]));
    let fresh = 0;
    for (const row of rows) {
      const mine = known.get(idOf(row));
      if (!mine) {
        known.set(idOf(row), { ...row });
        fresh += 1;
      } else if (row.back && !mine.back) {
        mine.back = true;
        mine.given &&= row.given;
        fresh += 1;
      }
    }
    log = [...known.values()];
    keep("records", log);
    return fresh;
  };
  const rowOf = (kind, name, minute, time) => {
    const row = { kind, name, at: minute, time: time || 0, who: owner < 0 ? me : owner };
    const again = () => log.some((one) => idOf(one) === idOf(row) && (one.back || COUNTS[kind]));
    while (again() && !kind.startsWith("read") && !COUNTS[kind] && !recurs(name) && row.time < 35) row.time += 1;
    while (again() && !COUNTS[kind]) row.at -= 1;
    // What is pressed after another counts after it: lid on, off and on again in one minute.
    const last = live().map((one) => one.said).filter((one) => one.at >= row.at && one.at <= row.at + 5 && matter(one) === matter(row)).pop();
    if (last) row.at = last.at;
    if (last && idOf(last) > idOf(row)) row.at += 1;
    while (again()) row.at += 1;
    return row;
  };
  const matter = ({ kind, name }) => (COUNTS[kind] ? name.replace(/.*@/, "@") : ({ failed: "", works: "", noted: "" }[kind] ?? kind.split("-")[0]) + (kind === "moved" ? name.split("@")[0] : name));
  const takeBack = (rows) => record(rows.map((row) => ({ ...row, back: true, given: false })));
  // The last that was pressed here, whatever time it was given, with what was pressed in one with it.
  const lastPressed = () => {
    const mine = log.filter((one) => !one.back && !one.given && one.who === (owner < 0 ? me : owner));
    const last = mine.pop();
    return last ? [last, ...mine.filter((one) => last.lot && one.lot === last.lot)] : [];
  };
  const unsent = () => [...older, written(log.filter(waits))].join("\n").trim();
  const record = (rows) => {
    merge(rows);
    if (crew) keep("unsent", unsent());
    keep("uncopied", (load("uncopied", 0) || 0) + rows.length);
    show();
    send();
  };

  // How the tasks stand: as the program reckons it, from the records and the network.
  const standing = (now) => {
    const begun = {};
    const ended = {};
    const times = {};
    const unsaid = new Set();
    tasks.forEach((task, i) => {
      if (task.logged) [begun[i], ended[i]] = [task.logged[0], task.logged[1] ?? undefined];
    });
    for (const one of live()) {
      const i = ids.indexOf(one.name);
      if (i < 0) continue;
      if (one.kind === "begun") begun[i] ??= one.at;
      else if ((one.kind === "done" || one.kind === "met") && tasks[i].starts) (times[i] ??= new Set()).add(one.time);
      else if (one.kind === "done" || one.kind === "met") {
        ended[i] ??= one.at;
        begun[i] ??= one.at;
      }
    }
    tasks.forEach((task, i) => {
      if (!task.starts) return;
      const whole = (times[i]?.size || 0) >= task.starts.length || task.finish <= now;
      if (whole) ended[i] ??= task.finish;
      if (whole || times[i]) begun[i] ??= task.start;
    });
    const waiting = every.filter((i) => begun[i] !== undefined && !tasks[i].starts).map((i) => [i, begun[i]]);
    while (waiting.length) {
      const [after, at] = waiting.pop();
      for (const [before, relation] of tasks[after].after) {
        const task = tasks[before];
        if (relation || task.kind === "hold-point" || task.starts || ended[before] !== undefined || unsaid.has(before)) continue;
        if (begun[before] > at) continue; // what was begun after that was not over then
        unsaid.add(before);
        waiting.push([before, at]);
      }
    }
    const through = (i, [before, relation, gap]) => {
      if (unsaid.has(before) || tasks[before].gone) return now;
      if (relation === 0) return ended[before] === undefined ? null : ended[before] + gap;
      if (relation === 1) return begun[before] === undefined ? null : begun[before] + gap;
      if (relation === 2 && ended[before] !== undefined) return ended[before] + gap - tasks[i].minutes;
      return begun[before] === undefined ? null : begun[before] + (ended[before] === undefined ? gap + tasks[before].minutes - tasks[i].minutes : 0);
    };
    for (let news = true; news; ) {
      news = false;
      tasks.forEach((task, i) => {
        if (task.kind !== "wait" || task.people.length || begun[i] !== undefined) return;
        const moments = task.after.map((tie) => through(i, tie));
        if (moments.includes(null)) return;
        const since = max(...moments, moments.length ? -Infinity : task.start);
        if (since > now) return;
        begun[i] = since;
        if (since + task.minutes <= now) ended[i] = since + task.minutes;
        news = true;
      });
    }
    const isOpen = (i) => ended[i] === undefined && !unsaid.has(i) && !tasks[i].gone;
    const waits = (i) => waitsOf(i, through, now);
    return { begun, ended, times, unsaid, isOpen, waits, runs: (i) => isOpen(i) && begun[i] !== undefined && !tasks[i].starts };
  };
  // What a task waits for: for the end of it, for its begin only, or for an hour that is known.
  const waitsOf = (i, through, now) => {
    const rows = new Map();
    const weight = ({ begin, until }) => until ?? (begin ? 1e9 : Infinity);
    for (const tie of tasks[i].after) {
      const row = { before: tie[0], begin: tie[1] > 0, until: through(i, tie) };
      if ((row.until ?? Infinity) > now && !(weight(rows.get(row.before) || { until: 0 }) > weight(row))) rows.set(row.before, row);
    }
    return [...rows.values()];
  };
  const waitWords = (waits, found) => {
    const of = ({ before }) => "“" + named(before) + "”" + (who(before) ? " (" + who(before) + ")" : "");
    const ends = waits.filter(({ begin, until }) => until === null && !begin).map(of);
    const begins = waits.filter(({ begin, until }) => until === null && begin).map(of);
    const hour = waits.filter(({ until }) => until !== null).sort((one, other) => one.until - other.until).pop();
    return [
      ends.length && "It waits for " + ends.join(", ") + ".",
      begins.length && "It may begin once " + begins.join(" has begun, once ") + " has begun.",
      hour && "Not before " + whenOf(hour.until) + ": " + words(hour.until - (found.ended[hour.before] ?? found.begun[hour.before])) + " after “" + named(hour.before) + "”.",
    ].filter(Boolean).join(" ");
  };

  // What failed and does not work again: each thing with its last record.
  const failing = (until = Infinity) => {
    const found = new Map();
    for (const one of live()) if (one.at > until) break;
    else if (one.kind === "failed") found.set(one.name, one);
    else if (one.kind === "works") found.delete(one.name);
    return found;
  };
  // When it is expected back, where that was said at the computer.
  const backAt = ({ said: { at, time } }) => (time >= 36 ? at + time - 36 : undefined);
  const thingNamed = (name) => part("thing").options[things.indexOf(name)].textContent;
  const follows = tasks.map(() => []);
  tasks.forEach((task, i) => task.after.forEach(([before]) => follows[before].push(i)));
  const drives = (i) => tasks[i].kind === "travel";
  const hangsOn = (name) => data.hangs[things.indexOf(name)] || [[], [], 0, []];
  const heldBy = (name, found) => {
    const [own, roots, lasting, early] = hangsOn(name);
    const reached = new Set(roots.filter((i) => lasting || found.isOpen(i)));
    for (const i of reached) for (const next of follows[i]) reached.add(next);
    return new Set([...own, ...(own.some(found.isOpen) && !(backAt(failing().get(name)) > nowMinute()) ? early : []), ...reached].filter((i) => found.isOpen(i) && (!found.runs(i) || drives(i) || data.stops.includes(i))));
  };
  // Who comes to a task that waits for what is held up waits too; who was to drive rings, else who was to do the first.
  const stuckBy = (name, found) => {
    const held = heldBy(name, found);
    const order = (i) => [!drives(i), tasks[i].start, tasks[i].number];
    const [ringer] = [...held].sort((i, k) => order(i).map((one, n) => one - order(k)[n]).find(Boolean) || 0).flatMap((i) => tasks[i].crew);
    const reached = new Set(held);
    for (const i of reached) for (const next of follows[i]) if (found.isOpen(next) && !found.runs(next)) reached.add(next);
    const [what] = name.split(":");
    const words = (what === "power" ? "power at " : "") + thingNamed(name) + (what === "power" ? "" : " or another " + what) + (people[ringer] ? ": " + people[ringer][1] + " rings" : "");
    const wordsOf = (i) => reached.has(i) && "It waits for " + words + ", see above." + (hangsOn(name)[3].includes(i) ? " Not before that is sure: the animals may have to go back." : "");
    return { held, wordsOf, what, early: hangsOn(name)[3] };
  };

  // Who is not there today is out of every crew; who has nothing planned then, or the skill that is short, joins.
  const days = new Intl.DateTimeFormat("en-GB", { dateStyle: "medium", timeZone: page.zone });
  const dayOf = (minute) => days.format(new Date(minute * MINUTE));
  const whenOf = (minute) => (dayOf(minute) === dayOf(nowMinute()) ? "" : dayOf(minute) + " ") + at(minute);
  // What has begun stays with those who were there then.
  const takeOver = (now) => {
    for (const task of tasks) Object.assign(task, { crew: task.people, gone: false });
    if (!live().some((one) => one.kind === "failed" && personOf(one.name) >= 0)) return [];
    const found = standing(now);
    return [...every.filter(found.runs).flatMap((i) => away(found, found.begun[i], found.begun[i], i)), ...away(found, now)];
  };
  const away = (found, now, until = Infinity, only) => {
    const outs = [...failing(until)].map(([name, one]) => [personOf(name), dayOf(one.at)]).filter(([one]) => one >= 0);
    const open = every.filter((i) => found.isOpen(i) || found.ended[i] > until).sort((i, k) => tasks[i].start - tasks[k].start || tasks[i].number - tasks[k].number);
    const spanOf = (task) => {
      const length = task.starts ? task.minutes : task.finish - task.start;
      const starts = task.starts || [task.start];
      const piece = starts.find((start) => start + length > now) ?? starts[starts.length - 1];
      const from = max(piece, min(now, piece + NEAR));
      return [from, max(piece + length, from)];
    };
    const busy = people.map(() => []);
    for (const i of open) for (const one of tasks[i].crew) busy[one].push(spanOf(tasks[i]));
    const rows = [];
    for (const i of open) {
      const task = tasks[i];
      const span = spanOf(task);
      const out = outs.filter(([, day]) => day === dayOf(span[0])).map(([one]) => one);
      const had = task.crew;
      if (!had.some((one) => out.includes(one))) continue;
      const crew = had.filter((one) => !out.includes(one));
      if ((only ?? i) === i) Object.assign(task, { crew, gone: task.kind === "rest" && !crew.length });
      if (task.kind === "rest") continue;
      const free = (one) => !busy[one].some(([begin, end]) => begin < span[1] && span[0] < end);
      const there = (one) => !out.includes(one) && busy[one].some(([begin]) => dayOf(begin) === dayOf(span[0]));
      const here = people.map((_, one) => one).filter(there).map((one) => [free(one), one]).sort((one, other) => other[0] - one[0]);
      const short = () => task.needs.filter(([skill, count]) => crew.filter((one) => people[one][2].includes(skill)).length < count).map(([skill]) => skill);
      for (const [, one] of here) if (!crew.includes(one) && short().some((skill) => people[one][2].includes(skill))) crew.push(one);
      for (const [idle, one] of here) if (!crew.includes(one) && crew.length < task.hands && (idle || !crew.length)) crew.push(one);
      for (const one of crew) if (!had.includes(one)) busy[one].push(span);
      if (only === i && short()[0]) crew.push(...had.filter((one) => out.includes(one) && !failing().has("person:" + people[one][0])));
      if (task.crew === crew) rows.push({ i, lacks: short() });
    }
    return rows;
  };
  // What went wrong and was not mended; what cannot be mended is told for some time.
  const troubled = () => {
    const found = new Map();
    for (const one of live()) {
      const [box, what] = one.name.split("@");
      const lasts = ["container-leaks", "device-dead"].includes(what);
      if (one.kind === "noted" && (lasts || one.at > nowMinute() - TOLD)) found.set(one.name, found.get(one.name) || { ...one, box, what, lasts });
      else if (one.kind === "works") found.delete(one.name);
    }
    return [...found.values()];
  };
  // Since when a box has no air: it was taken off, or a device is dead; a mended one gives back only what it took.
  const airless = (box) => {
    let [taken, dead] = [Infinity, Infinity];
    for (const { kind, name, at } of live()) {
      if (name === box && kind === "air-on") taken = dead = Infinity;
      else if (name === box && kind === "air-off") taken = min(taken, at);
      else if (name === box + "@device-dead") dead = kind === "noted" ? min(dead, at) : Infinity;
    }
    return min(taken, dead);
  };
  const aid = (what) => card.querySelector(`template[data-first="${what}"]`)?.content.textContent.trim() || "";
  // A number is rung with one press.
  const dialled = (line) => {
    const parts = line.textContent.split(/((?:\+|\b0)\d[\d\s()/-]{5,}\d)/);
    line.replaceChildren(...parts.map((text, k) => (k % 2 ? made("a", text, { href: "tel:" + text.replace(/[^\d+]/g, "") }) : text)));
    return line;
  };
  all("[data-trouble] li", card).forEach(dialled);
  const ANOTHER = { vehicle: "Another vehicle", tank: "A sound tank", power: "Power again" };
  let ways = "";
  const showWrong = (found, over, now) => {
    const lines = [];
    const last = ([name]) => personOf(name) >= 0;
    for (const [name, one] of [...failing()].sort((one, other) => last(one) - last(other))) {
      const [what] = name.split(":");
      const said = thingNamed(name);
      if (what === "person") {
        const theirs = over.filter(({ i }) => tasks[i].people.includes(personOf(name)) && tasks[i].start - now < NEAR);
        const cannot = theirs.filter(({ i, lacks }) => lacks.length || !tasks[i].crew.length);
        const of = ({ i, lacks }) => tasks[i].number + ". " + named(i) + ": " + (who(i) || "NOBODY") + (lacks.length ? ", and somebody who " + lacks.map((skill) => data.skills[skill]).join(", who ") + " is MISSING: ring somebody now" : tasks[i].crew.length < tasks[i].hands ? ", " + tasks[i].crew.length + " of " + tasks[i].hands + " hands" : "");
        lines.push([said + " is not there.", ...[...cannot, ...theirs.filter((row) => !cannot.includes(row))].slice(0, 6).map(of)]);
        continue;
      }
      if (ways) continue;
      const held = [...heldBy(name, found)].sort((i, k) => tasks[i].start - tasks[k].start);
      const aboard = held.some((i) => found.runs(i) && drives(i)) || boxRows.some((row) => row.querySelector(".left").textContent.includes(said + ", "));
      const by = held.length ? overBy(name, found, now) : null;
      const ring = aid("ring").split("; ");
      if (what !== "vehicle") ring.reverse(); // of a vehicle its hire is rung first, of all else the vet
      const least = boxRows.filter((row) => !row.hidden && row.dataset.left).sort((one, other) => one.dataset.left - other.dataset.left)[0];
      lines.push([
        (what === "power" ? "No power at " : "") + said + (what === "power" ? "" : " has failed") + ", " + at(one.at) + (backAt(one) ? ", expected back " + whenOf(backAt(one)) : "") + ".",
        ...(what === "tank" ? ["First, with animals in it: " + aid("tank-full") + ".", "Else: " + aid("tank") + "."] : ["First: " + (what !== "vehicle" || aboard ? aid(what) : aid("vehicle-empty")) + "."]),
        least ? "Hold: lids on, air on; " + least.dataset.container + (least.dataset.left === "-Infinity" ? " has no air: now " + least.dataset.order : least.dataset.left < 0 ? " was to last until " + at(now + Number(least.dataset.left)) + ": now " + least.dataset.order : " lasts least, until " + at(now + Number(least.dataset.left))) + "." : "Hold: nothing is closed, so the animals stay where they are.",
        by !== null && ANOTHER[what] + (by <= now ? ": too late already for all to be home in time" : " by " + whenOf(by) + " at the latest") + "; else " + aid("else") + ".",
        held.length ? "It waits: " + held.slice(0, 3).map(named).join("; ") + (held.length > 3 ? " and " + (held.length - 3) + " more" : "") + "." : "Nothing that is left hangs on it.",
        aid("havens") && "Takes animals in: " + aid("havens") + ".",
        ring[0] && "Call: " + ring.join("; ") + ".",
      ].filter(Boolean));
    }
    for (const one of troubled()) {
      const steps = all(`[data-trouble="${one.what}"] > ol > li`, card).map((step) => step.textContent);
      lines.push([spoken(one) + " (" + people[one.who][1] + ", " + at(one.at) + ")", ...steps, ...(one.lasts ? [{ mended: one.name }] : [])]);
    }
    if (ways) lines.unshift(...ways.trim().split(/\n(?=FAILED)/).map((way) => way.split("\n")));
    const box = part("failed");
    const text = JSON.stringify(lines);
    if (box.dataset.shown === text) return;
    box.dataset.shown = text;
    box.hidden = !lines.length;
    if (box.contains(part("told"))) card.append(part("told"));
    box.querySelector("ul").replaceChildren(...lines.map(([head, ...rest]) => {
      const item = made("li");
      const mends = made("button", "Mended");
      const [{ mended }] = rest.slice(-1).concat({});
      onClick(mends, () => press("works", mended));
      item.append(made("b", head), ...rest.filter((line) => !line.mended).map((line) => dialled(made("p", line))), ...(mended ? [mends] : []));
      return item;
    }));
  };

  // What lets animals out too late as it goes comes before all else that is possible, the least time left first.
  const pressing = (found, now) => {
    const least = {};
    for (const box of data.boxes.filter((one) => airless(one) === Infinity)) {
      const rows = shutIn(box, found, now);
      endsOf(rows, waysOf(rows, box, found), found, now).forEach(({ left, spare }, k) => {
        const [i] = rows[k][0].open;
        if (spare < 0) least[i] = min(least[i] ?? left, left);
      });
    }
    return least;
  };
  // When the day of those begins who are not there yet: with the first that was planned for them, unless they have begun.
  const comingTo = (found, now) => {
    const today = (minute) => abs(minute - now) <= NEAR + 60 && dayOf(minute) === dayOf(now);
    const first = [];
    tasks.forEach(({ crew, starts, start }, i) => {
      const there = !starts && [found.begun[i], found.ended[i]].some((minute) => minute <= now && today(minute));
      const hours = there ? [-Infinity] : (starts || [start]).filter(today);
      for (const one of crew) first[one] = min(first[one] ?? Infinity, ...hours);
    });
    return first.map((minute) => (minute > now && minute < Infinity ? minute : 0));
  };
  // Everybody's turns: what runs, else tasks in planned order, each for all of its people at once; who has to wait for
  // others of a crew does meanwhile what ends before those are free. Nobody passes a drive.
  const turnsOf = (found, now) => {
    const items = [];
    tasks.forEach(({ starts, start }, i) => (starts || [start]).forEach((start, k) => {
      if (found.isOpen(i) && !(starts && (starts[k + 1] <= now || found.times[i]?.has(k + 1)))) items.push({ i, start, time: starts ? k + 1 : 0 });
    }));
    items.sort((one, other) => one.start - other.start || tasks[one.i].number - tasks[other.i].number);
    const [drives, theirs, kept] = [[], [], []];
    const rows = people.map(() => []);
    const stuck = [...failing().keys()].map((name) => stuckBy(name, found));
    for (const item of items) {
      const { i, start } = item;
      const { crew, kind, starts, minutes, finish } = tasks[i];
      const runs = found.runs(i);
      const held = stuck.find((one) => one.held.has(i));
      Object.assign(item, { item, runs, held, may: !held && !runs, stuck: stuck.map(({ wordsOf }) => wordsOf(i)).find(Boolean) });
      item.ends = max(now, (runs ? found.begun[i] : max(now, start)) + (starts ? minutes : finish - start));
      for (const person of crew) {
        const waits = runs ? [] : found.waits(i);
        const drive = drives[person] ?? i;
        if (drive !== i && !runs && !waits.some(({ before }) => before === drive)) waits.push({ before: drive, until: null });
        if (kind === "travel") drives[person] = drive;
        if (waits[0]) item.may = false;
        if (runs) theirs[person] ??= item;
        rows[person].push({ ...item, waits });
      }
    }
    const press = pressing(found, now);
    const coming = comingTo(found, now);
    const order = (item) => press[item.i] ?? 1e9;
    const told = [...items].sort((one, other) => order(one) - order(other));
    for (const item of told) {
      const { crew } = tasks[item.i];
      const others = crew.flatMap((one) => [theirs[one]?.ends, coming[one]]).filter(Boolean);
      if (item.may) for (const one of crew) if (others[0]) kept[one] ??= [item, max(item.start, ...others)];
      if (item.may && !others[0] && crew.every((one) => !(item.ends > kept[one]?.[1]))) for (const one of crew) theirs[one] = item;
    }
    const firstOf = (one) => theirs[one] || (coming[one] && rows[one][0]?.item) || kept[one]?.[0] || told.find(({ i, may }) => may && tasks[i].crew.includes(one));
    return rows.map((own, person) => {
      const first = firstOf(person) || own[0]?.item;
      own.sort((one, other) => (other.item === first) - (one.item === first));
      if (first) own[0].without = tasks[first.i].crew.filter((one) => (first.may || firstOf(one)?.runs) && firstOf(one) !== first).map((one) => [one, firstOf(one).i]);
      return own;
    });
  };
  // What is open of the days before, where nothing was recorded before today.
  const earlier = (found, now) => {
    const before = (minute) => minute < now && dayOf(minute) !== dayOf(now);
    if ([...live().map((one) => one.at), ...tasks.flatMap((task) => task.logged || [])].some(before)) return [];
    return every.flatMap((i) => {
      const { starts, kind, people, finish, minutes } = tasks[i];
      if (!(starts || found.isOpen(i)) || (kind === "wait" && !people.length) || !before(finish)) return [];
      return (starts || [finish - minutes]).map((start, k) => [i, start + minutes, starts ? k + 1 : 0]).filter(([, , time]) => !found.times[i]?.has(time));
    });
  };
  // How the rest goes: every open task as soon as people, vehicles and the network let it, in planned order; work as
  // much longer as what was done of it.
  const planned = [...every].sort((i, k) => tasks[i].start - tasks[k].start || tasks[i].finish - tasks[k].finish || i - k);
  const restOf = (found, now, over = {}) => {
    const held = {};
    const gained = {};
    for (const [name, one] of failing()) {
      const own = heldBy(name, found);
      const back = backAt(one) ?? one.at + HELD;
      for (const i of own) held[i] = max(held[i] || 0, over[name] ?? back);
      // A plan that was made since it failed is planned around its end: over sooner, what hangs on it is sooner.
      if (over[name] < back && one.at <= data.base + data.made) for (const i of own) {
        gained[i] = back - over[name];
        for (const next of follows[i]) own.add(next);
      }
    }
    const said = live();
    const near = (task) => task.kind === "work" && abs(task.start - now) <= NEAR;
    let taken = 240;
    let meant = 240;
    tasks.forEach((task, i) => {
      const [begun, done] = ["begun", "done"].map((kind) => said.find((one) => one.kind === kind && one.name === ids[i])?.said.at);
      if (!near(task) || task.starts || !(begun < done)) return;
      taken += min(done - begun, 2 * task.minutes);
      meant += task.minutes;
    });
    const pace = max(taken / meant, 1);
    const spans = [];
    const free = {};
    for (const i of planned) {
      const task = tasks[i];
      const [begun, ended, since] = [found.begun[i], found.ended[i], held[i] ?? now];
      const lasting = round((near(task) ? pace : 1) * (task.kind === "wait" && !task.crew.length ? task.minutes : task.finish - task.start));
      const users = [...task.crew, ...data.uses.flatMap((several, k) => (several.includes(i) ? "v" + k : []))];
      if (ended !== undefined) spans[i] = [min(begun, ended), ended];
      else if (!found.isOpen(i) || task.starts) spans[i] = [task.start, task.finish];
      else {
        const after = task.after.filter(([before]) => spans[before]).map(([before, relation, gap]) => spans[before][relation % 2 ? 0 : 1] + gap - (relation > 1 ? task.minutes : 0));
        const start = begun ?? max(now, since, task.start - (gained[i] || 0), ...users.map((one) => free[one] || 0), ...after);
        spans[i] = [start, begun === undefined ? start + lasting : max(start + lasting - (gained[i] || 0), since > now ? since + min(lasting, task.most ?? lasting) : now)];
        for (const one of users) free[one] = max(free[one] || 0, spans[i][1]);
      }
    }
    return spans;
  };
  let onward = [];
  // By how much later than planned what the day is for is forecast: the opening of containers, and when all are settled.
  const behind = (found, now) => {
    const day = planned.filter((i) => found.isOpen(i) && !tasks[i].starts && abs(tasks[i].start - now) <= NEAR);
    const ends = data.home < 0 ? day.slice(-1) : [data.home, ...stays.map(({ open }) => open[0])];
    return max(0, ...day.map((i) => (ends.includes(i) ? onward[i][1] - tasks[i].finish : 0)));
  };

  // Animals: each container counts from its lid, else from the task that closes it, until it is opened.
  const edge = (i, finish, found) => (i < 0 ? undefined : finish ? found.ended[i] : found.begun[i]);
  const passed = ([i, finish], found) => edge(i, finish, found) !== undefined || found.unsaid.has(i);
  const lastWork = () => max(-Infinity, ...live().map((one) => one.at), ...tasks.flatMap((task) => task.logged || []));
  const has = (stay, box) => stay.boxes.some(([number]) => number === box);
  // How many are in it: as planned, less those lost from it since and not found again, one record after the other; of
  // what was lost elsewhere the fullest has one less, of what was found the one that lacks most has one more.
  const lost = () => {
    const found = {};
    for (const { kind, name, time, said } of live()) {
      if (!COUNTS[kind] || data.counted?.includes([kind, name, said.at, time].join(" "))) continue;
      const [box, group] = name.split("@");
      (found[group] ??= []).push([box, COUNTS[kind] * time]);
    }
    return found;
  };
  let gone = {};
  const sum = (counts) => [...counts].reduce((all, [, number]) => all + number, 0);
  const countsOf = ({ group, boxes }) => {
    const planned = new Map(boxes);
    const counts = new Map(boxes);
    for (const [number, net] of boxes.length ? gone[groups[group][0]] || [] : []) {
      const room = (one) => (net > 0 ? counts.get(one) : planned.get(one) - counts.get(one));
      for (let k = abs(net); k > 0; k -= 1) {
        const known = net > 0 ? counts.get(number) : counts.has(number);
        const one = known ? number : [...counts.keys()].sort((one, other) => room(other) - room(one))[0];
        if (net > 0 ? counts.get(one) : sum(boxes) > sum(counts)) counts.set(one, counts.get(one) - (net > 0 ? 1 : -1));
      }
    }
    return counts;
  };
  const counted = (stay, box) => countsOf(stay).get(box);
  const lidsOf = (stay, box, found) => {
    const earlier = stays.filter((other) => other.from_min < stay.from_min && other.group === stay.group && has(other, box));
    const from = max(-Infinity, ...earlier.map((other) => edge(other.open[0], other.open[1], found) ?? (other.from_min + stay.from_min) / 2));
    return live().filter((one) => one.kind.startsWith("lid") && one.name === box && (one.at > from || (one.at === from && one.kind === "lid-on")));
  };
  const closedSince = (stay, box, found, now) => {
    if (passed(stay.open, found) || counted(stay, box) === 0) return null;
    // What was opened again before the task that fills it began closed nothing.
    const filled = edge(stay.shut[0], 0, found) ?? stay.from_min;
    const said = lidsOf(stay, box, found);
    const lids = said.slice(said.findLastIndex((one) => one.kind === "lid-off" && one.at < filled) + 1);
    if (lids.length && lids[lids.length - 1].kind === "lid-off") return null;
    const [shut, done] = [stay.shut[1], true].map((finish) => edge(stay.shut[0], finish, found));
    const was = shut ?? stay.from_min;
    if (lids[0]?.kind === "lid-off" && lids[0].at >= was) return { since: was, said: shut !== undefined };
    const on = lids.find((one) => one.kind === "lid-on");
    const since = on && !(done < on.at) ? on.at : shut;
    if (since !== undefined) return since <= now + 5 ? { since, said: true } : null;
    if (stay.from_min > now) return null;
    if (found.unsaid.has(stay.shut[0])) return { since: stay.from_min, said: false };
    const silent = lastWork() < stay.from_min - SILENT;
    return silent && now < stay.until_min + NEAR ? { since: stay.from_min, said: false } : null;
  };
  // When it came where: by the tasks at which the records have arrived, and where it was moved to; loading that takes
  // longer than planned counts as planned, from its beginning.
  const wayOf = (box, found, { places, from_min } = { places: [] }, since = 0) => {
    let order = 0;
    const there = places.filter(([, ...end]) => passed(end, found)).map(([place, i, finish]) => {
      const done = edge(i, finish, found);
      const over = found.unsaid.has(i) ? follows[i].map((next) => found.begun[next] ?? Infinity) : [];
      const came = max(min((found.begun[i] ?? tasks[i].start) + (finish ? tasks[i].minutes : 0), ...over), since);
      order = max(order, done ?? from_min);
      return { order, came: min(came, done ?? Infinity), where: data.places[place] };
    });
    const moved = live().filter((one) => one.kind === "moved" && one.name.split("@")[0] === box);
    return [...there, ...moved.map((one) => ({ order: one.at, came: one.at, where: thingNamed(one.name.split("@")[1]) }))].sort((one, other) => one.order - other.order);
  };
  // Only being carried out of a vehicle ends its cold or heat.
  const loadedAt = (way) => way.reduce(([loaded, before], { came, where }) => (vehicles.includes(where) ? [loaded ?? max(came, before), before] : [null, came]), [null, 0])[0];
  const CARRY = "carry it, lid on, into a room or car at room temperature";
  // What its water was read to be within a day, and whether its animals do not stand that.
  const feltIn = (box) => {
    const felt = live().filter((one) => one.kind === "read-in" && one.name === box && one.at > nowMinute() - NEAR).pop();
    if (!felt) return ["", ""];
    const celsius = felt.time * stepOf("temperature");
    const [low, high] = data.stands;
    return ["; " + told("temperature", celsius) + (warmth ? " °F" : " °C") + " at " + at(felt.at), celsius < low ? "TOO COLD: " + CARRY : celsius > high ? "TOO WARM: " + CARRY : ""];
  };
  const careAt = (box) => {
    const last = (kinds) => live().filter((one) => one.name === box && kinds[one.kind]).map((one) => "; " + kinds[one.kind] + at(one.at)).pop() || "";
    return last({ "topped-up": "topped up " }) + last({ "air-on": "air on ", "air-off": "air OFF " }) + feltIn(box)[0];
  };
  const vehicles = spots.filter((name) => name.startsWith("vehicle:")).map(thingNamed);
  const answers = document.querySelector(".answers");
  const sure = answers?.classList.contains("ok");
  let unshut = [];
  let late = 0;
  // From when until when it is expected in a vehicle.
  const rideOf = ({ places }, loaded, until, found) => {
    const come = places.map(([, ...end]) => passed(end, found));
    for (const [place, i, finish] of places.slice(come.lastIndexOf(true) + 1)) {
      const due = onward[i]?.[finish] ?? until;
      if (vehicles.includes(data.places[place])) loaded ??= due;
      else if (loaded !== null) return [loaded, due];
    }
    return [loaded ?? Infinity, until];
  };
  const shutIn = (box, found, now) => stays.filter((stay) => has(stay, box)).map((stay) => [stay, closedSince(stay, box, found, now)]).filter(([, one]) => one);
  const waysOf = (rows, box, found) => rows.map(([stay, one]) => wayOf(box, found, stay, one.since));
  const endsOf = (rows, ways, found, now) => rows.map(([stay, one], k) => {
    const loaded = loadedAt(ways[k]);
    const end = one.since + stay.low;
    const there = (loaded ?? Infinity) + stay.aboard;
    const until = max(onward[stay.open[0]]?.[stay.open[1]] ?? stay.until_min, now);
    const ride = rideOf(stay, loaded, until, found);
    const spare = min(end - until, ride[0] + stay.aboard - ride[1]);
    return { left: min(end, there) - now, cold: there <= end && there < Infinity, spare, until, lasts: ride[0] + stay.aboard, out: ride[1] };
  });
  // The latest moment at which what failed may work again so that each box is opened in time, by halving.
  const overBy = (name, found, now) => {
    const kept = onward;
    const shut = data.boxes.filter((box) => airless(box) === Infinity).map((box) => [shutIn(box, found, now), box]).map(([rows, box]) => [rows, waysOf(rows, box, found)]);
    const least = (moment) => {
      onward = restOf(found, now, { [name]: moment });
      return min(...shut.flatMap(([rows, ways]) => endsOf(rows, ways, found, now)).map(({ spare }) => spare));
    };
    let [low, high] = [now, now + 4 * NEAR];
    if (least(high) >= 0) low = null;
    else if (least(low) >= 0) while (high - low > 1) {
      const middle = floor((low + high) / 2);
      if (least(middle) >= 0) low = middle;
      else high = middle;
    }
    onward = kept;
    return low;
  };
  const lasting = (rows, box, found, now) => {
    const ways = waysOf(rows, box, found);
    const [first = wayOf(box, found)] = ways;
    const where = first.length ? first[first.length - 1].where : rows.length ? data.places[rows[0][0].places[0]?.[0]] : "";
    const there = (where ? where + ", " : "");
    if (!rows.length) return ["", there + "not closed" + careAt(box), {}];
    const each = endsOf(rows, ways, found, now);
    const least = (what) => each.reduce((one, other) => (what(other) < what(one) ? other : one));
    const { left, cold } = least((one) => one.left);
    const order = cold ? CARRY : "open it";
    const { spare, until } = least((one) => one.spare);
    const { lasts, out } = least((one) => one.lasts - one.out);
    const since = min(...rows.map(([, one]) => one.since));
    const said = rows.some(([, one]) => one.said) ? "closed " : "planned to be closed ";
    const air = airless(box);
    if (air < Infinity) return ["NO AIR since " + at(air) + ", " + words(now - air) + ": how long it lasts is not known", there + said + at(since) + careAt(box), { left: -Infinity, order: "give it air", spare: Infinity, until, lasts: Infinity }];
    const rest = left === Infinity ? "" : left < 0 ? "OVER by " + words(left) + ": " + (cold ? order : "open now") : words(left) + " left";
    return [rest, there + said + at(since) + careAt(box), { left, order, spare, until, lasts, out }];
  };
  const showAnimals = (found, now) => {
    unshut = [];
    const rides = [];
    const broken = troubled().filter(({ lasts }) => lasts);
    for (const row of boxRows) {
      const box = row.dataset.container;
      const own = stays.filter((stay) => has(stay, box));
      const rows = shutIn(box, found, now);
      const [rest, text, { left = Infinity, order, spare, until, lasts, out }] = lasting(rows, box, found, now);
      const on = row.querySelector(".lid-on");
      row.querySelector("bdi").textContent = [...new Set(own.map((stay) => counted(stay, box) + " × " + groups[stay.group][1]))].join(", ");
      const wrong = broken.filter((one) => one.box === box).map((one) => one.what.replace("-", " ") + " " + at(one.at));
      const felt = feltIn(box)[1];
      row.querySelector(".left").replaceChildren(made("b", [...wrong, felt, rest].filter(Boolean).join("; ")), text);
      // How it will be, late as the day is: when it is opened, and when it leaves the vehicle.
      const needed = row.querySelector(".needed");
      const ride = () => "must be out of the vehicle by " + at(lasts) + ", expected out " + at(out);
      needed.textContent = left < Infinity && (late > 0 || spare < 0) ? (spare < 0 ? words(spare) + " too SHORT: " : "") + (lasts - out === spare ? ride() : "needed until " + at(until) + " as it goes") : "";
      needed.classList.toggle("over", spare < 0);
      if (lasts < Infinity) rides.push([lasts - out, box + " " + ride() + (lasts < out ? ": that will NOT do." : ".")]);
      row.dataset.spare = spare < Infinity ? spare : "";
      row.hidden = !rows.length && !own.some((stay) => counted(stay, box) && abs(stay.from_min - now) < NEAR);
      on.disabled = rows.some(([, one]) => one.said);
      row.querySelector(".lid-off").disabled = !rows.length;
      if (!on.disabled && own.some(({ shut: [i], open }) => i === chosen?.i || (found.begun[i] !== undefined && edge(open[0], open[1], found) === undefined))) unshut.push(box);
      row.dataset.left = left === Infinity ? "" : left;
      row.classList.toggle("over", left < 0 || wrong.length > 0 || Boolean(felt));
      row.dataset.order = order || "";
    }
    part("lids").hidden = unshut.length < 2;
    say("lids", "Lids on: " + unshut.join(", "));
    const list = card.querySelector(".boxes");
    const order = (row) => (row.dataset.left ? Number(row.dataset.left) : 1e9);
    const sorted = [...list.children].sort((one, other) => order(one) - order(other));
    if (sorted.some((row, place) => list.children[place] !== row)) list.append(...sorted);
    const short = sorted.filter((row) => row.dataset.spare < 0);
    const [noAir] = sorted.filter((row) => row.dataset.left === "-Infinity");
    const least = noAir || short.sort((one, other) => one.dataset.spare - other.dataset.spare)[0] || sorted.find((row) => row.dataset.left);
    const needed = least?.querySelector(".needed").textContent;
    say("least", least ? least.dataset.container + ": " + least.querySelector(".left b").textContent + (needed && ", " + needed) : "");
    part("least").classList.toggle("over", noAir || short.length);
    answers?.classList.toggle("ok", sure && !noAir && !short.length);
    if (short.length) part("late").append(" Does NOT last as it goes: " + short.map((row) => row.dataset.container).join(", ") + ".");
    const going = chosen && (drives(chosen.i) || stays.some(({ places }) => places.some(([place, i]) => i === chosen.i && vehicles.includes(data.places[place]))));
    const [spareThere, ride = ""] = (going && rides.sort(([one], [other]) => one - other)[0]) || [];
    say("ride", ride);
    part("ride").classList.toggle("over", spareThere < 0);
    const [worst, ...others] = sorted.filter((row) => row.dataset.left && row.dataset.left <= 30);
    const left = Number(worst?.dataset.left);
    const alarm = !worst ? "" : worst.dataset.container + (noAir ? " has no air: " : left < 0 ? " is over its safe time: " : left <= 10 ? ": 10 min left, " : ": 30 min left, ") + worst.dataset.order + (left <= 10 ? " now." : " next.") + (others.length ? " Then " + others.map((row) => row.dataset.container).join(", ") + "." : "");
    if (part("alarm").textContent !== alarm) say("alarm", alarm);
    for (const [row, words, stay] of panels) showStay(row, words, stay, found, now);
    const today = live().filter((one) => COUNTS[one.kind] && dayOf(one.at) === dayOf(now));
    say("lost", today.length ? "Lost today: " + today.map((one) => (one.kind === "lost" ? "" : "found again ") + spoken(one) + ", " + at(one.at)).join("; ") + "." : "");
  };
  // The table of all stays says the same of its containers, and the file of progress takes their lids from there.
  const panels = all("tr.animal").map((row) => {
    const [, group, number] = row.dataset.key.match(/(.*)\/(.*)/);
    const line = made("p", "", { className: "left" });
    row.lastElementChild.append(line);
    return [row, line, stays.filter((stay) => groups[stay.group][0] === group)[number - 1]];
  });
  const showStay = (row, line, stay, found, now) => {
    const said = {};
    const later = stays.filter((other) => other.group === stay.group && other.from_min > stay.from_min);
    const lids = (stay.boxes.length ? stay.boxes : [[""]]).map(([box]) => {
      const since = closedSince(stay, box, found, now);
      const near = since || abs(stay.from_min - now) < NEAR;
      if (near && counted(stay, box) !== 0) (said[lasting(since ? [[stay, since]] : [], box, found, now).slice(0, 2).filter(Boolean).join(", ")] ??= []).push(box);
      const others = later.flatMap((other) => lidsOf(other, box, found).map((one) => one.said));
      return lidsOf(stay, box, found).filter((one) => !others.includes(one.said));
    });
    line.textContent = Object.entries(said).map(([words, [box, ...more]]) => (box ? [box, ...more].join(", ") + ": " : "") + words).join("; ");
    const on = lids.flat().filter((one) => one.kind === "lid-on").map((one) => one.at);
    const off = lids.map((several) => several.pop()).filter((one) => one?.kind === "lid-off").map((one) => one.at);
    row.dataset.lids = JSON.stringify({ closed: on.length ? min(...on) : undefined, opened: on.length && off.length === lids.length ? max(...off) : undefined });
  };

  // Readings: what a hold point asks for, and whether the last ones show it, as the program judges them.
  const stepOf = (name) => data.kinds[name.split("@")[0]][2];
  const warmth = part("what").textContent.includes("°F");
  const told = (name, value) => Number((warmth && name.startsWith("temperature") ? 1.8 * value + 32 : value).toFixed(2));
  const readings = () =>
    live()
      .filter((one) => one.kind === "read")
      .map((one) => ({ ...one, value: one.time * stepOf(one.name) }))
      .sort((one, other) => one.at - other.at);
  const isFar = (last, every) => {
    const recent = every.filter((one) => one !== last && one.at <= last.at && one.at >= last.at - data.week).slice(-2);
    return recent.length && recent.every((one) => abs(one.value - last.value) > data.kinds[last.name.split("@")[0]][3]);
  };
  const poly = (rows, x, t) => (rows.map ? rows.reduce((all, row, i) => all + poly(row, t) * x ** i, 0) : rows);
  const judged = (i, found, now) =>
    (data.asks[i] || []).map(([limit, which, low, usual, within, times, apart, since, bends, may, waters = [], share, like = [], near, stated]) => {
      const from = since < 0 ? -Infinity : found.ended[since] ?? Infinity;
      const of = (several) => readings().filter((one) => several.includes(reads.indexOf(one.name)));
      const every = of(which);
      const later = (one) => one.at >= from;
      const rows = every.filter(later);
      const last = rows[rows.length - 1];
      if (!last) return [limit, may ? "where you have a kit" : every.length && from === Infinity ? "record first: " + named(since) : "not read yet", may];
      const [acid, warm, salt] = waters.map((several, k) => of(several).filter(later).pop()?.value ?? data.usual[k]);
      const high = share ? floor(100 * share * (1 + 10 ** (poly(data.acid, min(max(salt, 28), 40), min(max(warm, 10), 40)) - acid))) / 100 : usual;
      const keeps = (one) => (low === null || one.value >= low - 1e-9) && (high === null || one.value <= high + 1e-9);
      let first = rows.length;
      while (first && keeps(rows[first - 1])) first -= 1;
      const value = told(last.name, last.value);
      const said = "last " + value + " at " + at(last.at) + (high === usual ? "" : ", at most " + high + " at this pH and warmth");
      const past = [false, value];
      if (now - last.at > within) return [limit, said + ", too old since " + whenOf(last.at + within) + ": read it again"];
      if (!keeps(last)) return [limit, said + ": NOT within", ...past];
      if (rows.length - first < times || last.at - rows[first].at < apart) return [limit, said + ", within; " + times + " in a row are asked for" + (apart ? " over " + words(apart) + ": from " + whenOf(rows[first].at + apart) + " on" : ":") + " read it again"];
      if (bends & 2 && !rows.some((one) => one.value > last.value) && (!rows[1] || rows.some((one) => one.value))) return [limit, said + ", not lower than before"];
      if (bends & 1 && !first) return [limit, said + ", no rise was seen before"];
      if (isFar(last, every)) return [limit, said + ", far from the one before: measure again"];
      if (!near) return [limit, said, true];
      // The water that the animals stand in: another one, or what this one was before.
      const other = of(like).filter((one) => ("" + like === "" + which ? !later(one) : now - one.at <= within)).pop();
      const likened = other?.value ?? stated;
      if (likened === null) return [limit, said + "; that water was not read"];
      const beside = said + "; that water " + told(last.name, likened) + (other ? " at " + at(other.at) : " by the plan");
      return abs(last.value - likened) > near + 1e-9 ? [limit, beside + ": NOT within", ...past] : [limit, beside, true];
    });

  const groupOf = (id) => groups.find(([one]) => one === id)[1];
  const spoken = (one) => {
    const [first, second] = one.name.split("@");
    if (about(one.kind) === ids) return named(ids.indexOf(one.name));
    if (things.includes(one.name)) return thingNamed(one.name);
    if (COUNTS[one.kind]) return one.time + " × " + groupOf(second) + (first && ", " + first);
    if (notes.includes(one.name)) return (first && first + ": ") + second.replaceAll("-", " ");
    if (one.kind === "read-in") return one.name + " " + told("temperature", one.time * stepOf("temperature"));
    return first + (one.kind === "read" ? " " + told(one.name, one.time * stepOf(one.name)) : second ? " to " + thingNamed(second) : "");
  };

  // The card itself.
  const crew = page.crew;
  const known = people.findIndex(([id]) => id === (crew || load("me", "")));
  let me = known < 0 ? Number(part("person").value) : known;
  let owner = known;
  let willing = known;
  let chosen = null;
  let lacks = [];
  let asked = "";
  let pressed = null;
  let settled = 0;
  let offline = "";
  let forecast = "";
  // That the dates have moved since the schedule was accepted: it sends nobody any more.
  let moved = page.crew ? load("moved", "") : "";
  let send = () => {};
  let journal = null;
  // What a page of the plan before did not send, in the words of that plan.
  let older = load("unsent", "").split("\n").filter((text) => !text.startsWith("mp2-" + data.key));
  // Served, what was pressed here waits until the journal gives it back, and what came from there is never sent; else
  // all waits until the progress is copied.
  const waits = (one) => one.who === me && !one.given && journal?.get(idOf(one)) !== Boolean(one.back);
  const waiting = () => (crew ? log.filter(waits).length : load("uncopied", 0) || 0);
  // What was agreed counts animals that were lost since.
  const less = (text) => stays.reduce((said, stay) => {
    const lacks = sum(stay.boxes) - sum(countsOf(stay));
    const words = "× " + groups[stay.group][1];
    return lacks > 0 ? said.replaceAll(words + " (less " + lacks + " lost)", words).replaceAll(words, words + " (less " + lacks + " lost)") : said;
  }, text);
  const named = (i) => less(lineOf(i).replace(/^\d+\. /, ""));
  const careOf = (name) => all(".mind").find((one) => one.textContent.startsWith(`Care, ${name.replaceAll("-", " ")}:`))?.lastChild.textContent.trim();
  const who = (i) => tasks[i].crew.map((person) => people[person][1]).join(", ");
  // What a button is for has to have stood there for a moment: the second tap of a finger is not meant for what comes next.
  const pause = (...buttons) => {
    for (const button of buttons) button?.setAttribute("aria-disabled", true);
    clearTimeout(settled);
    settled = setTimeout(() => all("[aria-disabled]", card).forEach((button) => button.removeAttribute("aria-disabled")), SETTLES_MS);
  };
  // What is in doubt is asked once; the same press again says yes.
  const insists = (doubt) => {
    const again = !doubt || asked === doubt;
    asked = again ? "" : doubt;
    if (again) return true;
    pause(pressed);
    tell(doubt);
  };
  const show = () => {
    const now = nowMinute();
    const over = takeOver(now);
    const found = standing(now);
    gone = lost();
    onward = restOf(found, now);
    const turns = turnsOf(found, now)[me].filter((row) => !moved || row.runs || (row.time && !row.waits[0]));
    const first = turns[0] || null;
    if (first?.i !== chosen?.i) {
      say("read-note", "");
      part("reading").open = first && data.asks[first.i];
    }
    if (chosen && (first?.i !== chosen.i || first.time !== chosen.time)) {
      asked = "";
      pause(...all("#card-work button, #card-gate button", card));
    }
    chosen = first;
    late = moved ? 0 : behind(found, now);
    const runs = late > 0 ? "The day runs " + words(late) + " behind" : "";
    say("behind", runs && runs + ".");
    const home = tasks[data.home];
    say("late", runs && forecast ? forecast : runs && runs + (home && found.isOpen(data.home) ? "; as it goes animals are home about " + at(onward[data.home][1]) : "") + ". The rest here was said for a day on time.");
    // What has begun to go into what failed stops and comes out again.
    const stop = first?.held && first.runs && !drives(first.i) && aid(first.held.early.includes(first.i) ? "lowered" : first.held.what.replace("vehicle", "vehicle-empty"));
    // Who is on the road is at no place, and with a vehicle that failed drives on no more.
    const road = first?.runs && drives(first.i);
    const off = road && first.held?.what === "vehicle" && aid("vehicle");
    say("title", first ? (stop ? "STOP: " : "") + tasks[first.i].number + ". " + named(first.i) + (first.time ? " (" + first.time + " of " + tasks[first.i].starts.length + ")" : "") : moved ? "The dates have moved" : "Nothing is left for you");
    const facts = [];
    const gate = first && tasks[first.i].kind === "hold-point";
    const shut = first && first.waits.some(({ before }) => tasks[before].kind === "hold-point" && found.isOpen(before));
    if (first) {
      const task = tasks[first.i];
      facts.push(first.runs ? "since " + whenOf(found.begun[first.i]) : "planned " + whenOf(first.start));
      const others = task.crew.filter((person) => person !== me).map((person) => people[person][1]);
      if (others.length) facts.push("with " + others.join(", "));
      if (data.places[task.place] && !road) facts.push(data.places[task.place]);
    }
    say("facts", facts.join("; "));
    const notThere = !first?.runs && dayOf(failing().get("person:" + people[me][0])?.at ?? 0) === dayOf(now);
    // What is known to be through before it is planned holds nothing back.
    const holding = ({ waits, start }) => waits.filter(({ until }) => until === null || until > start);
    say("waits", notThere ? "Recorded as not there today." : [first?.stuck, first?.held ? "" : waitWords(first ? holding(first) : [], found), ...(first?.without || []).map(([one, i]) => "With " + people[one][1] + ", " + (found.runs(i) ? "still" : "first") + " at “" + named(i) + "”.")].filter(Boolean).join(" "));
    const steps = part("steps");
    const body = first && byId("task-" + ids[first.i]);
    const lines = stop ? [stop, "then take back Begun"] : off ? [off] : body ? all(":scope > ol > li", body).map((step) => less(step.textContent)) : [];
    steps.replaceChildren(...lines.map((line) => made("li", line)));
    const care = first ? (tasks[first.i].care || []).map((key) => careOf(data.care[key])).filter(Boolean) : [];
    part("care").replaceChildren(...care.map((text) => made("li", text)));
    part("work").hidden = !first || gate;
    part("gate").hidden = !gate;
    part("begun").disabled = !first || first.runs || shut || first.time;
    part("done").disabled = !first || shut;
    part("met").disabled = shut;
    const asks = gate ? judged(first.i, found, now) : [];
    part("before").hidden = moved || !earlier(found, now).length;
    part("asks").hidden = !asks.length;
    part("asks").replaceChildren(...asks.map(([words, said]) => made("li", words + ": " + said)));
    lacks = asks.filter((row) => !row[2]);
    say("met", asked && pressed === part("met") ? "Sign all the same" : "Met");
    const [last, ...more] = lastPressed();
    part("back").disabled = !last;
    say("last", last ? "Last: " + (last.kind === "works" && notes.includes(last.name) ? "mended" : last.kind.replace("-", " ")) + ", " + spoken(last) + (more.length ? " and " + more.length + " more" : "") + ", " + at(min(last.at, now)) : "");
    const thenAfter = (wait) => (!wait ? "" : wait.until ? ", not before " + whenOf(wait.until) : wait.begin ? ", once “" + named(wait.before) + "” has begun" : ", after “" + named(wait.before) + "”");
    // As it goes; what recurs keeps its hours.
    const hourOf = ({ i, start, time }) => (time ? start : onward[i][0]);
    // Who is driven has no task for it: the ride stands before what comes after it.
    const then = turns.slice(0, 4).flatMap((row, k, rows) => {
      const own = data.rides
        .map(([person, drive, since, until, to]) => [person, drive, since + data.base, until + data.base, to])
        .filter(([person, drive, , until]) => person === me && until <= row.start && (!k || until > rows[k - 1].start) && (drive < 0 ? now < until : found.isOpen(drive)));
      const lines = own.map(([, drive, since, , to]) => (drive < 0 ? "after " + whenOf(since) + " Come to " + to + " by other means: no seat is free" : whenOf(since + onward[drive][0] - tasks[drive].start) + " Ride along: " + named(drive) + " (" + who(drive) + ")"));
      if (k) lines.push((hourOf(row) < now ? "due since " : "") + whenOf(hourOf(row)) + " " + named(row.i) + thenAfter(holding(row)[0]));
      return lines.map((line) => made("li", line));
    });
    const alone = every.filter((i) => tasks[i].kind === "wait" && !tasks[i].people.length && found.runs(i));
    part("then").replaceChildren(...then);
    const homeward = !moved && home && found.isOpen(data.home) && onward[data.home][1] - now < NEAR ? ["Animals home about " + at(onward[data.home][1]) + " at this pace"] : [];
    say("alone", [...alone.map((i) => named(i) + " until " + dated(found.begun[i] + tasks[i].minutes)), ...homeward].join("; "));
    const no = live().filter((one) => one.kind === "not-met" && found.isOpen(ids.indexOf(one.name))).pop();
    say("no", moved ? moved : no ? "STOP: “" + spoken(no) + "” was not met (" + (people[no.who] ? people[no.who][1] + ", " : "") + at(no.at) + "). Begin nothing that comes after it." : "");
    showAnimals(found, now);
    showWrong(found, moved ? [] : over, now);
    say("when-note", "empty: now, " + at(now) + (crew ? "" : " by this phone") + "; for lids too");
    const failed = failing().has(thing());
    part("fails").disabled = failed;
    part("works").disabled = !failed;
    const uncopied = waiting();
    part("status").textContent = offline + (uncopied
      ? uncopied + (uncopied === 1 ? " record waits" : " records wait") + " to be sent" + (crew ? "." : ": copy the progress.")
      : log.length + " records, none waits to be sent.") + (abs(clockAhead) > CLOCKS ? " The clock of this phone is " + words(clockAhead) + (clockAhead > 0 ? " ahead" : " behind") + "; that of the computer counts." : "");
    page.animals = JSON.stringify(log.filter((one) => COUNTS[one.kind]).map(({ kind, name, at, time, who, back }) => ({ kind, container: name.split("@")[0], group: name.split("@")[1], count: time, at: new Date(at * MINUTE), by: people[who]?.[0], back })));
    const ticks = {};
    for (const one of log) {
      if (one.kind !== "done" && one.kind !== "met") continue;
      const key = one.name + (recurs(one.name) ? "#" + one.time : "");
      if (!one.back) ticks[key] = min(ticks[key] ?? Infinity, one.at);
      else ticks[key] ??= undefined;
    }
    page.first = first && log[0] && ids[first.i];
    document.dispatchEvent(new CustomEvent("moveplan:done", { detail: ticks }));
  };

  // The text for the group chat: every record in eight characters, with a checksum.
  const CRC = Array.from({ length: 256 }, (_, n) => {
    let value = n;
    for (let bit = 0; bit < 8; bit += 1) value = value & 1 ? 0xedb88320 ^ (value >>> 1) : value >>> 1;
    return value >>> 0;
  });
  const crc = (text) => {
    let sum = 0xffffffff;
    for (const byte of new TextEncoder().encode(text)) sum = CRC[(sum ^ byte) & 255] ^ (sum >>> 8);
    return ((sum ^ 0xffffffff) >>> 0).toString(36).padStart(7, "0");
  };
  const digits = (number, width) => number.toString(36).padStart(width, "0");
  const written = (records) => {
    if (!records.length) return "";
    const blocks = new Map();
    let base = -Infinity;
    for (const one of [...records].sort((one, other) => one.at - other.at)) {
      if (one.at - base > 46655) blocks.set((base = one.at), []);
      blocks.get(base).push(KINDS[one.kind][one.back ? 1 : 0] + digits(one.time * about(one.kind).length + about(one.kind).indexOf(one.name), 3) + digits(one.at - base, 3) + digits(one.who, 1));
    }
    const text = "mp2-" + data.key + "-" + Array.from(blocks, ([start, rows]) => start.toString(36) + "-" + rows.sort().join("") + "-").join("");
    return text + crc(text);
  };
  const foreign = "This text belongs to another plan, or to another version of it.";
  const broken = "This text is not whole. Copy it again from its beginning to its end.";
  const understood = (said) => {
    // Chat programs quote, break lines, and put words around it.
    const text = said.toLowerCase().replace(/[\s>]+/g, "");
    const found = [...text.matchAll(/mp2-([0-9a-z]{7})-(?:[0-9a-z]{1,8}-(?:[0-9a-z]{8})*-)+/g)];
    if (!found.length) throw new Error(broken);
    return found.flatMap(({ 0: whole, 1: key, index }) => {
      const parts = whole.slice(0, -1).split("-");
      while (parts.length > 3 && crc(parts.join("-") + "-") !== text.substr(index + parts.join("-").length + 1, 7)) parts.splice(-2);
      if (parts.length < 4) throw new Error(broken);
      if (key !== data.key) throw new Error(foreign);
      const blocks = parts.slice(2);
      return blocks.flatMap((rows, k) => (k % 2 ? (rows.match(/.{8}/g) || []).map((row) => read(row, parseInt(blocks[k - 1], 36))) : []));
    });
  };
  const read = (row, base) => {
    const kind = Object.keys(KINDS).find((name) => KINDS[name].includes(row[0]));
    const names = kind ? about(kind) : [];
    const number = parseInt(row.slice(1, 4), 36);
    const one = { kind, name: names[number % names.length], at: base + parseInt(row.slice(4, 7), 36), time: floor(number / names.length), who: parseInt(row[7], 36) };
    if (!sound(one) || one.who >= people.length) throw new Error(foreign);
    return KINDS[kind].indexOf(row[0]) ? { ...one, back: true } : one;
  };
  const differing = () => {
    const rows = live().filter((one) => one.kind === "done" && !recurs(one.name));
    const twice = rows.filter((one) => rows.some((other) => other !== one && other.name === one.name && other.who !== one.who));
    const names = [...new Set(twice.map((one) => one.name))];
    return names.map((name) => "“" + named(ids.indexOf(name)) + "” was recorded by two: " + twice.filter((one) => one.name === name).map((one) => people[one.who][1] + " " + at(one.at)).join(", ") + "; both are kept, the earlier counts.").join(" ");
  };
  const box = part("text");
  // What is said of a press stands where it was pressed; at the foot where that is gone.
  const tell = (text) => {
    if (!part("told").parentNode.checkVisibility()) card.append(part("told"));
    say("told", text);
  };
  card.addEventListener("click", (event) => {
    const button = event.target.closest("button");
    if (!button) return;
    say("told", "");
    button.closest("p, li")?.append(part("told"));
    if (button.hasAttribute("aria-disabled")) {
      event.stopPropagation();
      return tell("Not taken: what this button is for has just changed. Press again if you mean it.");
    }
    if (button !== pressed) asked = "";
    pressed = button;
  }, true);
  onClick(part("copy"), async () => {
    box.value = written(log);
    box.select();
    keep("uncopied", 0);
    show();
    tell(box.value ? "Copied: paste it into the chat, and into moveplan record PLAN --paste TEXT." : "There is nothing to copy yet.");
    try {
      await navigator.clipboard.writeText(box.value);
    } catch (refused) {
      document.execCommand?.("copy");
    }
  });
  onClick(part("paste"), async () => {
    let said = box.value;
    if (!said.trim()) said = await navigator.clipboard?.readText().catch(() => "") || "";
    try {
      const rows = understood(said);
      const fresh = merge(rows);
      const ahead = max(...rows.map((one) => one.at)) - nowMinute();
      tell((fresh === 1 ? "1 record is new. " : fresh + " records are new. ") + (ahead > CLOCKS ? "The newest lies " + words(ahead) + " ahead of this phone's clock: one of two clocks is wrong. " : "") + differing());
      box.value = "";
    } catch (error) {
      tell(error.message);
    }
    show();
  });

  // An hour of the evening before, told long after it, may be a slip of the morning.
  const evening = (minute) => {
    const days = [minute, nowMinute()].map((one) => new Date(one * MINUTE).toDateString());
    return days[0] === days[1] || nowMinute() - minute < EVENING ? "" : part("when").value + " was yesterday: press again to record that. ";
  };
  const press = (kind, names, time, doubts = () => "") => {
    const minute = minuteSaid(part("when"));
    if (minute === null) return tell(part("when").value + " is still to come: nothing was recorded.");
    if (!signs() || !insists(evening(minute) + doubts(minute))) return;
    const rows = [names].flat().map((name) => rowOf(kind, name, minute, time));
    if (rows[1]) for (const row of rows) row.lot = Date.now();
    record(rows);
    pause(pressed);
    part("when").value = "";
    return true;
  };
  // A phone is one person's; who records as another presses twice.
  const signs = () => {
    if (owner >= 0 && owner !== me && willing !== me) {
      willing = me;
      pause(pressed);
      tell("This phone is " + people[owner][1] + "'s. Press again to record as " + people[me][1] + ".");
      return false;
    }
    keep("me", people[(owner = me)][0]);
    return true;
  };
  // Who comes without the records of the days before.
  onClick(part("before"), () => {
    const now = nowMinute();
    const found = standing(now);
    const rows = earlier(found, now);
    const gates = rows.map(([i]) => i).filter((i) => tasks[i].kind === "hold-point");
    if (!signs() || !insists("Press again: " + rows.length + " tasks of the days before are recorded as done when planned" + (gates.length ? "; met, signed by " + people[me][1] + ": " + gates.map(named).join("; ") : "") + ".")) return;
    const lot = Date.now();
    record(rows.map(([i, minute, time]) => ({ ...rowOf(gates.includes(i) ? "met" : "done", ids[i], minute, time), lot })));
  });
  // What still waits, what is not shown, and work of a moving day that is said long before it.
  const doubtsOf = (kind, minute) => {
    const [past, rest] = kind === "met" ? [true, false].map((is) => lacks.filter((row) => row[3] !== undefined === is)) : [[], []];
    const doubts = [
      part("waits").textContent,
      tied(chosen.i) && chosen.start - minute > NEAR && "It is planned for " + whenOf(chosen.start) + ", and this clock says " + dayOf(minute) + ".",
      rest.length && "Not shown: " + rest.map(([words]) => words).join("; ") + ".",
      ...past.map(([words, , , value]) => "NOT within: " + value + " (" + words + ")."),
      rest.length + past.length ? "Read it, or press again to sign all the same; that is kept with it." : "Press again to record it all the same.",
    ].filter(Boolean);
    return doubts[1] ? doubts.join(" ") : "";
  };
  // Closed before what fills it has begun: the safe time would run of an empty container.
  const unfilled = (boxes) => {
    const found = standing(nowMinute());
    const fills = boxes.map((box) => stays.filter((stay) => has(stay, box) && !passed(stay.open, found)).sort((one, other) => one.from_min - other.from_min)[0]?.shut[0]);
    const early = [...new Set(fills)].filter((i) => i >= 0 && found.isOpen(i) && found.begun[i] === undefined);
    return early.map((i) => "“" + named(i) + "” has not begun. " + waitWords(found.waits(i), found) + " ").join("") + (early.length ? "Press again to record the lid all the same." : "");
  };
  const act = (kind) => () => {
    if (chosen) press(kind, ids[chosen.i], chosen.time, (minute) => doubtsOf(kind, minute));
    show();
  };
  onClick(part("begun"), act("begun"));
  onClick(part("done"), act("done"));
  onClick(part("met"), act("met"));
  // What a kit or a meter shows, as the terminal takes it: by the units and factors that the program sends.
  const shown = (what, text) => {
    const [low, high, , , sample, units, bare, forms = { "": 1 }] = data.kinds[what];
    const said = text.toLowerCase().replace(/°/g, "").replace(what === "salinity" ? "," : /,(?!\d{3}(\D|$))/, ".");
    const [, number, rest = "", sampled, scale, fresh] = said.match(/^(?:ph)?\s*([+-]?[\d.]+)\s*(.*?)\s*(?:(?:\s|at)\s*(\d\d?(?:\.\d)?)\s*([cf]?)(?:\s*\/\s*(\d\d?(?:\.\d)?)\s*[cf]?)?)?$/) || [];
    const form = rest.match(/n(?:[ho]\d)?|caco3/g)?.pop() || Object.keys(forms)[0];
    const unit = rest ? rest.replace(/n(?:[ho]\d)?[+-]*|caco3|as |\s/g, "") : bare.find(([, from, to]) => number >= from && number <= to)?.[0].toLowerCase();
    const key = Object.keys(units).find((one) => one.toLowerCase() === unit);
    const rows = units[key];
    const quoted = "“" + text + "” ";
    if (rows?.map && rows[1].map && !sampled) return [0, quoted + "says nothing without its temperature: write it like “" + text + " at 25 C”."];
    const [t, cold] = [sampled, fresh || sampled].map((degrees) => (scale === "f" || (!scale && sampled >= 50) ? (degrees - 32) / 1.8 : Number(degrees)));
    const x = key === "sg" ? 1000 * (number * poly(data.fresh, cold) / poly(data.fresh, t) - 1) : Number(number);
    const value = poly(rows?.map ? rows : [0, rows ?? NaN], x, t) * forms[form];
    if (isNaN(value) || (sampled && !(rows[1]?.map && t >= data.fits[0] && t <= data.fits[1]))) return [0, quoted + "is no " + what + " here: write it like “" + sample + "”, in " + Object.keys(units).join(", ") + "."];
    return [value, value < low || value > high ? quoted + "is out of range, " + low + " to " + high + ": read it again." : ""];
  };
  const stepsIn = (name, text, names) => {
    const [value, fault] = shown(name.split("@")[0], text);
    const steps = round(value / stepOf(name));
    return [value, steps, fault || (steps < 0 || steps * names > 46655 - names ? "Record it at the computer." : "")];
  };
  onClick(part("read"), () => {
    const name = reads[part("what").selectedIndex];
    const [value, steps, fault] = stepsIn(name, part("value").value.trim(), 36);
    say("read-note", fault);
    if (fault) return;
    if (!press("read", name, steps)) return;
    const rows = readings().filter((one) => one.name === name);
    const past = Object.values(data.asks).flat().find((row) => row && row[1].includes(reads.indexOf(name)) && (value < (row[2] ?? value) || value > (row[3] ?? value)));
    const unit = part("what").selectedOptions[0].textContent.match(/\((.*?)\)/);
    say("read-note", "Read as " + told(name, steps * stepOf(name)) + (unit ? " " + unit[1] : "") + ". " + (past ? "NOT within: " + past[0] + ". " : "") + (isFar(rows[rows.length - 1], rows) ? "Far from the one before: measure again." : ""));
    part("value").value = "";
  });
  onClick(part("reading").querySelector("summary"), () => setTimeout(() => part("value").scrollIntoView({ block: "center" })));
  const thing = () => things[part("thing").selectedIndex];
  const toldWrong = (kind, name) => {
    if (!press(kind, name)) return;
    part("wrong").open = false;
    part("failed").scrollIntoView({ block: "nearest" });
  };
  const wrong = (kind) => () => toldWrong(kind, thing());
  onClick(part("fails"), wrong("failed"));
  onClick(part("works"), wrong("works"));
  part("thing").addEventListener("change", () => show());
  onClick(part("not-met"), () => press("not-met", ids[chosen.i], chosen.time));
  onClick(part("back"), () => {
    takeBack(lastPressed());
    pause(pressed);
  });
  onClick(part("lids"), () => press("lid-on", unshut, 0, () => unfilled(unshut)));
  for (const button of card.querySelectorAll("[data-earlier]")) {
    onClick(button, () => {
      const minute = (minuteSaid(part("when")) ?? nowMinute()) - Number(button.dataset.earlier);
      part("when").value = hours.format(new Date(minute * MINUTE));
    });
  }
  const tend = part("tend");
  for (const row of boxRows) {
    const own = (tag, className, text) => made(tag, text, { className });
    const lid = (kind, text) => {
      const button = own("button", kind, text);
      onClick(button, () => press(kind, row.dataset.container, 0, () => (kind === "lid-on" ? unfilled([row.dataset.container]) : "")));
      return button;
    };
    const more = own("button", "more", "Air, place, loss");
    onClick(more, () => {
      const shut = tend.hidden || tend.parentNode !== row;
      tend.parentNode?.querySelector(".more")?.setAttribute("aria-expanded", "false");
      row.append(tend);
      offer(tend, losses.filter((name) => name.startsWith(row.dataset.container + "@")));
      tend.hidden = !shut;
      more.setAttribute("aria-expanded", shut);
    });
    more.setAttribute("aria-expanded", "false");
    row.append(own("span", "left", ""), " ", own("span", "needed", ""), " ", lid("lid-on", "Lid on"), " ", lid("lid-off", "Lid off"), " ", more);
  }
  const loss = part("loss");
  const offer = (within, names) => {
    within.append(loss);
    const words = (name) => groupOf(name.split("@")[1]) + (name[0] === "@" || within === tend ? "" : ", " + name.split("@")[0]);
    part("of").replaceChildren(...names.map((value) => made("option", words(value), { value })));
  };
  // What goes wrong with animals and devices: what to do first, and what to record then.
  const note = part("note");
  part("spot").append(...data.boxes.map((box) => made("option", box)));
  for (const trouble of all("[data-trouble]", card)) {
    trouble.addEventListener("toggle", () => {
      if (!trouble.open) return;
      note.hidden = false;
      trouble.append(note);
      if (trouble.dataset.trouble === "animal-missing") offer(trouble, losses);
    });
  }
  onClick(note.querySelector("button"), () => toldWrong("noted", part("spot").value + "@" + note.parentNode.dataset.trouble));
  for (const button of loss.querySelectorAll("button")) {
    onClick(button, () => {
      const name = part("of").value;
      const [box, group] = name.split("@");
      const count = Number(part("many").value);
      const of = stays.filter((stay) => groups[stay.group][0] === group);
      const there = of.filter((stay) => !box || has(stay, box)).map((stay) => [counted(stay, box) ?? sum(countsOf(stay)), sum(stay.boxes) - sum(countsOf(stay))]);
      const most = max(...there.map(([left, lacks]) => (button.value === "lost" ? left : lacks)));
      if (!Number.isInteger(count) || count < 1 || count > most) tell((most ? "1 to " + most + " can be " : "None can be ") + button.textContent.toLowerCase() + " here: nothing was recorded.");
      else if (press(button.value, name, count)) part("many").value = 1;
    });
  }
  for (const button of tend.querySelectorAll("button:not(#card-loss *)")) {
    onClick(button, () => {
      const box = button.closest("[data-container]").dataset.container;
      const [, steps, fault] = button.value === "read-in" ? stepsIn("temperature", part("warm").value.trim(), data.boxes.length) : [];
      if (fault) return tell(fault);
      if (steps !== undefined && press(button.value, box, steps)) part("warm").value = "";
      if (steps === undefined) press(button.value, button.value === "moved" ? box + "@" + spots[part("where").selectedIndex] : box);
    });
  }
  const person = part("person");
  person.value = String(me);
  const sign = () => say("signs", people[me] ? people[me][1] : "");
  person.addEventListener("change", () => {
    me = Number(person.value);
    willing = owner;
    if (owner < 0) keep("me", people[(owner = me)][0]);
    chosen = null;
    sign();
    show();
  });
  document.addEventListener("moveplan:tick", (event) => {
    const [name, time] = event.detail.key.split("#");
    const number = Number(time || 0);
    if (!ids.includes(name)) return;
    const kind = tasks[ids.indexOf(name)].kind === "hold-point" ? "met" : "done";
    if (event.detail.at) record([rowOf(kind, name, floor(Date.parse(event.detail.at) / MINUTE), number)]);
    else takeBack(live().filter((row) => row.kind === kind && row.name === name && (!recurs(name) || row.time === number)).map((one) => one.said));
  });
  // What the journal said when the page was built; served, what it says now.
  const give = (text) => {
    const rows = text ? understood(text) : [];
    log = log.filter((one) => !one.given);
    merge(rows.map((one) => ({ ...one, given: true })));
    return rows;
  };
  give(data.told);
  // Served: records go to the journal at once and come from it every second; without a network they wait.
  if (crew) {
    clockAhead = load("ahead", 0);
    person.disabled = true;
    let busy = false;
    let offered = null;
    let differs = differing();
    onClick(part("load"), () => location.reload());
    const exchange = async () => {
      if (busy) return;
      busy = true;
      try {
        const body = unsent();
        const answer = await fetch("records?" + data.key, body ? { method: "POST", body } : {});
        const text = await answer.text();
        if (answer.status === 400 && older.length) box.value = older.join("\n");
        if (answer.ok || answer.status === 400) older = [];
        if (!answer.ok) throw new Error(answer.status === 404 ? "This address holds no more: ask for a new one, and give your records as text." : text);
        offline = "";
        const ahead = floor(Date.now() / MINUTE) - Number(answer.headers.get("X-Now") || NaN);
        clockAhead = ahead || 0;
        keep("ahead", clockAhead);
        const leftOut = answer.headers.get("X-Left-Out");
        if (leftOut) tell(leftOut);
        journal = new Map(give(text).map((one) => [idOf(one), Boolean(one.back)]));
        keep("unsent", unsent());
        if (differs !== (differs = differing())) tell(differs);
        const plan = answer.headers.get("X-Plan");
        const taken = plan && plan !== data.key;
        part("load").hidden = !taken;
        const offer = taken ? plan : answer.headers.get("X-Offer");
        if (offer !== offered) say("offer", taken ? "A new plan was taken. What waits to be sent is kept." : offer ? await (await fetch("offer")).text() : "");
        offered = offer;
        const slipped = answer.headers.get("X-Moved");
        const said = (slipped || part("behind").textContent) && await (await fetch("forecast")).text();
        [moved, forecast] = slipped ? [said, ""] : ["", said];
        keep("moved", moved);
        ways = [...failing().keys()].some((name) => personOf(name) < 0) ? await (await fetch("ways")).text() : "";
      } catch (failed) {
        forecast = "";
        offline = failed instanceof TypeError ? "No network: " : failed.message + " ";
      }
      busy = false;
      show();
    };
    setInterval(exchange, 1000);
    send = exchange;
    exchange();
  }
  sign();
  card.hidden = false;
  byId("now-link")?.removeAttribute("hidden");
  show();
  setInterval(show, 20000);
})();
