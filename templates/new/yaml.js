// A plan file as a tree of Maps, arrays and texts, and back. It reads what plan files are written in (no anchors, no
// tags, as the program itself); every value stays the text that it is.
"use strict";

class YamlError extends Error {
  constructor(line, what) { super(`line ${line}: ${what}`); }
}

function readYaml(text) {
  const lines = text.replace(/^\uFEFF/, "").split(/\r\n|\n|\r/);
  let at = 0;

  const indentOf = (line) => line.length - line.trimStart().length;
  const isBlank = (line) => /^\s*(#.*)?$/.test(line) || /^---(\s+#.*)?$/.test(line);
  const fail = (what) => { throw new YamlError(at + 1, what); };

  function skip() {
    while (at < lines.length && isBlank(lines[at])) at += 1;
    if (at < lines.length && /^ *\t/.test(lines[at])) fail("a tab stands where spaces belong");
    return at < lines.length;
  }

  // Splits "key: rest" outside of quotation marks; null where the line is no key.
  function keyOf(body) {
    const found = /^("(?:[^"\\]|\\.)*"|'(?:[^']|'')*'|[^\s"'#[\]{},][^#]*?|-[^\s#][^#]*?)\s*:(?=\s|$)(.*)$/.exec(body);
    return found && { key: found[1], rest: found[2].trim() };
  }

  function plainKey(key) {
    return /^["']/.test(key) ? flow(key).value : key;
  }

  function block(indent) {
    const body = lines[at].slice(indent);
    return /^-(\s|$)/.test(body) ? sequence(indent) : mapping(indent);
  }

  function mapping(indent) {
    const map = new Map();
    while (skip() && indentOf(lines[at]) === indent) {
      const found = keyOf(lines[at].slice(indent));
      if (!found) fail("this is neither a key with a value nor a list");
      map.set(plainKey(found.key), value(found.rest, indent));
    }
    if (at < lines.length && indentOf(lines[at]) > indent) fail("this is indented too far");
    return map;
  }

  function sequence(indent) {
    const rows = [];
    while (skip() && indentOf(lines[at]) === indent && /^-(\s|$)/.test(lines[at].slice(indent))) {
      const rest = lines[at].slice(indent + 1);
      const inner = indent + 1 + indentOf(rest);
      if (rest.trim() && !/^[[{"']/.test(rest.trim()) && keyOf(rest.trim())) {
        lines[at] = " ".repeat(inner) + rest.trimStart();
        rows.push(mapping(inner));
      } else rows.push(value(rest.trim(), indent));
    }
    return rows;
  }

  // Reads what follows a key or a dash; `at` is its line, and afterwards the next one that is not read.
  function value(rest, indent) {
    if (/^[&*!]/.test(rest)) fail("anchors, repeats and tags are not read in a plan");
    if (/^[|>]/.test(rest)) return written(rest, indent);
    if (/^[[{"']/.test(rest)) return closed(rest);
    const shown = rest.replace(/(^|\s)#.*$/, "").trim();
    at += 1;
    if (shown) return shown + folded(indent);
    if (!skip()) return "";
    const next = indentOf(lines[at]);
    if (next > indent) {
      const body = lines[at].trim();
      if (keyOf(body) || /^-(\s|$)/.test(body)) return block(next);
      return /^[[{"']/.test(body) ? closed(body) : folded(indent).trim();
    }
    return next === indent && /^-(\s|$)/.test(lines[at].slice(indent)) && !/^\s*-/.test(lines[at - 1] ?? "") ? sequence(indent) : "";
  }

  function folded(indent) {
    let more = "";
    while (at < lines.length && !isBlank(lines[at]) && indentOf(lines[at]) > indent) {
      if (keyOf(lines[at].trim())) fail("a key stands where a text goes on");
      more += " " + lines[at].replace(/\s#.*$/, "").trim();
      at += 1;
    }
    return more;
  }

  function written(mark, indent) {
    const rows = [];
    at += 1;
    while (at < lines.length && (!lines[at].trim() || indentOf(lines[at]) > indent)) { rows.push(lines[at]); at += 1; }
    const least = Math.min(...rows.filter((row) => row.trim()).map(indentOf));
    const cut = rows.map((row) => row.slice(least));
    while (cut.length && !cut[cut.length - 1].trim()) cut.pop();
    return cut.join(mark[0] === "|" ? "\n" : " ") + (mark[1] === "-" ? "" : "\n");
  }

  // Takes lines until brackets and quotation marks are closed.
  function closed(first) {
    let whole = first;
    for (;;) {
      try {
        const { value: found, end } = flow(whole);
        if (!/^\s*(#.*)?$/.test(whole.slice(end))) fail("something follows that does not belong here");
        at += 1;
        return found;
      } catch (error) {
        if (error !== OPEN || at + 1 >= lines.length) { if (error === OPEN) fail("a bracket or quotation mark is not closed"); throw error; }
        at += 1;
        whole += "\n" + lines[at];
      }
    }
  }

  const OPEN = new Error("open");
  const ESCAPES = { n: "\n", t: "\t", r: "\r", "0": "\0", a: "\x07", b: "\b", e: "\x1b", f: "\f", v: "\v", N: "\x85", _: "\xa0", L: "\u2028", P: "\u2029" };

  function flow(text) {
    let pos = 0;
    const gap = () => { for (;;) { const found = /^(\s+|#[^\n]*)/.exec(text.slice(pos)); if (!found || (found[0][0] === "#" && pos > 0 && !/\s/.test(text[pos - 1]))) return; pos += found[0].length; } };
    const more = () => { if (pos >= text.length) throw OPEN; };

    function item(inside) {
      gap(); more();
      const mark = text[pos];
      if (mark === "{") return pairs();
      if (mark === "[") return items();
      if (mark === '"') return doubled();
      if (mark === "'") return single();
      if (/[&*!]/.test(mark)) fail("anchors, repeats and tags are not read in a plan");
      const found = (inside ? /^(?:(?!\s#|:(?:[\s,[\]{}]|$))[^,[\]{}])*/ : /^[^\n]*/).exec(text.slice(pos));
      pos += found[0].length;
      return found[0].replace(/\s*\n\s*/g, " ").trim();
    }
    function pairs() {
      const map = new Map();
      pos += 1;
      for (;;) {
        gap(); more();
        if (text[pos] === "}") { pos += 1; return map; }
        if (text[pos] === ",") { pos += 1; continue; }
        const key = item(true);
        gap(); more();
        let held = "";
        if (text[pos] === ":") { pos += 1; gap(); more(); if (!/[,}]/.test(text[pos])) held = item(true); }
        map.set(key, held);
        gap(); more();
        if (!/[,}]/.test(text[pos])) fail("a comma or a closing brace is missing");
      }
    }
    function items() {
      const rows = [];
      pos += 1;
      for (;;) {
        gap(); more();
        if (text[pos] === "]") { pos += 1; return rows; }
        if (text[pos] === ",") { pos += 1; continue; }
        rows.push(item(true));
        gap(); more();
        if (!/[,\]]/.test(text[pos])) fail("a comma or a closing bracket is missing");
      }
    }
    function doubled() {
      let out = "";
      for (pos += 1; ; pos += 1) {
        more();
        const sign = text[pos];
        if (sign === '"') { pos += 1; return out; }
        if (sign === "\n") { out = out.trimEnd() + " "; while (/\s/.test(text[pos + 1] ?? "")) pos += 1; continue; }
        if (sign !== "\\") { out += sign; continue; }
        pos += 1; more();
        const width = { x: 2, u: 4, U: 8 }[text[pos]];
        if (width) { out += String.fromCodePoint(parseInt(text.slice(pos + 1, pos + 1 + width), 16)); pos += width; }
        else out += ESCAPES[text[pos]] ?? text[pos];
      }
    }
    function single() {
      let out = "";
      for (pos += 1; ; pos += 1) {
        more();
        if (text[pos] === "'" && text[pos + 1] === "'") { out += "'"; pos += 1; continue; }
        if (text[pos] === "'") { pos += 1; return out; }
        if (text[pos] === "\n") { out = out.trimEnd() + " "; while (/\s/.test(text[pos + 1] ?? "")) pos += 1; continue; }
        out += text[pos];
      }
    }
    return { value: item(false), end: pos };
  }

  if (!skip()) return new Map();
  const tree = block(indentOf(lines[at]));
  if (skip()) fail("this belongs to nothing before it");
  if (!(tree instanceof Map)) throw new YamlError(1, "a plan consists of keys with values");
  return tree;
}

function yamlText(text) {
  if (/^[A-Za-z0-9](?:[A-Za-z0-9 .\/+_%°-]*[A-Za-z0-9.%])?$/.test(text)) return text;
  return JSON.stringify(text).replace(/[\x7f-\xa0\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff]/g,
    (sign) => "\\u" + sign.charCodeAt(0).toString(16).padStart(4, "0"));
}

function yamlFlow(value) {
  if (value instanceof Map) return "{" + [...value].map(([key, inner]) => `${yamlText(key)}: ${yamlFlow(inner)}`).join(", ") + "}";
  return Array.isArray(value) ? "[" + value.map(yamlFlow).join(", ") + "]" : yamlText(value);
}

function writeYaml(map, indent = 0) {
  const pad = " ".repeat(indent);
  let out = "";
  for (const [key, value] of map) {
    const short = `${pad}${yamlText(key)}: ${yamlFlow(value)}`;
    const deep = value instanceof Map && value.size > 0 && (short.length > 100 || indent === 0 || [...value.values()].some((one) => one instanceof Map && one.size > 3));
    out += deep ? `${pad}${yamlText(key)}:\n${writeYaml(value, indent + 2)}` : `${short}\n`;
  }
  return out;
}
