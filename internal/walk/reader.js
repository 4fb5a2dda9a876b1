// What a person finds on a page by its words, and what would keep somebody from using it.
// Every lookup throws a sentence when the page does not hold what is asked for.
(() => {
  // Line ends and runs of blanks are one blank; the thin space within a figure stays.
  const squeezed = (text) => (text ?? "").replace(/[ \t\r\n]+/g, " ").trim();
  const seen = (node) => node.checkVisibility();
  const all = (selector, within = document) => [...within.querySelectorAll(selector)];

  // The text of a heading; a line break parts its words.
  const words = (cell) => squeezed([...cell.childNodes].map((n) => (n.nodeName === "BR" ? " " : n.textContent)).join(""));

  function one(found, what) {
    if (found.length === 1) return found[0];
    throw new Error(`${found.length} × ${what} on ${location.pathname}`);
  }

  // A label's own words, without the note that it may be left empty.
  function labelled(label) {
    const copy = label.cloneNode(true);
    for (const note of copy.querySelectorAll("small")) note.remove();
    return squeezed(copy.textContent);
  }

  function nameOf(control) {
    const label = control.labels?.[0];
    return control.getAttribute("aria-label") ?? (label ? labelled(label) : "");
  }

  const controls = () => all("input:not([type=hidden]), select, textarea");

  // A field by its label; “heading: label” where one label stands under several headings,
  // “label #2” for the second in a table of lines.
  function control(label) {
    const [name, under] = label.split(": ").reverse();
    const [words, line] = name.split(" #");
    const found = controls().filter((c) => nameOf(c) === words && (!under || headingOver(c).startsWith(under.toLowerCase())));
    return one(line ? found.slice(line - 1, line) : found, `field “${label}”`);
  }

  function headingOver(node) {
    const above = all("h2").filter((h) => h.compareDocumentPosition(node) & Node.DOCUMENT_POSITION_FOLLOWING);
    return squeezed(above.at(-1)?.textContent).toLowerCase();
  }

  function pressed(named) {
    const [words, under] = named.split(": ").reverse();
    const open = all("button, a, summary").filter((b) => seen(b) && squeezed(b.textContent) === words && (!under || headingOver(b).startsWith(under.toLowerCase())));
    return one(open.filter((b, i) => b.tagName !== "A" || open.findIndex((o) => o.href === b.href) === i), `“${named}” to press`);
  }

  // Where to press, after scrolling there; whatever lies over it is in the way.
  function place(node) {
    node.scrollIntoView({ block: "center", behavior: "instant" });
    const box = node.getClientRects()[0];
    const at = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
    const top = document.elementFromPoint(at.x, at.y);
    if (!top || !(node.contains(top) || top.contains(node))) throw new Error(`“${squeezed(node.textContent)}” is covered by ${top?.outerHTML.slice(0, 80)}`);
    return at;
  }

  function put(label, value) {
    const field = control(label);
    if (field.type === "date") {
      field.value = value;
      return false;
    }
    field.focus();
    field.select();
    return true; // the rest is typed
  }

  function choose(label, words) {
    const field = control(label);
    field.value = one([...field.options].filter((o) => squeezed(o.textContent) === words), `choice “${words}” of “${label}”`).value;
  }

  // The cells of a table's row, by the words of their column's heading; “heading: row” as above.
  function row(named) {
    const [start, under] = named.split(": ").reverse();
    const found = all("tbody tr, tfoot tr").filter((r) => seen(r) && squeezed(r.cells[0].textContent).startsWith(start) && (!under || headingOver(r).startsWith(under.toLowerCase())));
    const tr = one(found, `table row “${named}”`);
    const cells = {};
    let column = 0;
    for (const cell of tr.cells) {
      cells[heading(tr.closest("table"), column)] = squeezed((cells[heading(tr.closest("table"), column)] ?? "") + cell.textContent);
      column += cell.colSpan;
    }
    return cells;
  }

  // The body of the table that has a column of some heading, cell by cell.
  function table(column) {
    const found = all("table").filter((t) => [...(t.tHead?.rows[0].cells ?? [])].some((c) => words(c) === column));
    return [...one(found, `table with a column “${column}”`).tBodies[0].rows].map((r) => [...r.cells].map((c) => squeezed(c.textContent)));
  }

  function heading(table, column) {
    let at = 0;
    for (const cell of table.tHead?.rows[0].cells ?? []) {
      if (column < at + cell.colSpan) return words(cell);
      at += cell.colSpan;
    }
    return String(column);
  }

  // What somebody who does not see, or has a narrow screen, would stumble over.
  function faults() {
    const wrong = [];
    const check = (ok, sentence) => ok || wrong.push(sentence);
    check(document.documentElement.lang, "the page names no language");
    check(squeezed(document.title), "the page has no title");
    check(all("h1").length === 1, `the page has ${all("h1").length} main headings`);
    check(document.documentElement.scrollWidth <= innerWidth, `the page is ${document.documentElement.scrollWidth} px wide on ${innerWidth}`);
    for (const c of controls()) check(nameOf(c), `a field has no label: ${c.outerHTML.slice(0, 100)}`);
    for (const b of all("button, a[href]")) check(squeezed(b.textContent) || b.getAttribute("aria-label"), `nothing names ${b.outerHTML.slice(0, 100)}`);
    for (const i of all("img")) check(i.hasAttribute("alt"), `an image has no words: ${i.outerHTML.slice(0, 100)}`);
    for (const s of all("svg")) check(s.getAttribute("role") === "img" && s.getAttribute("aria-label"), "a picture has no name");
    for (const c of all("[aria-describedby]")) check(document.getElementById(c.getAttribute("aria-describedby")), `what describes ${nameOf(c)} is not there`);
    const ids = all("[id]").map((n) => n.id);
    for (const id of new Set(ids)) check(ids.filter((i) => i === id).length === 1, `the id ${id} stands more than once`);
    return wrong;
  }

  return {
    faults, put, choose, row, table,
    field: control,
    value: (label) => control(label).value,
    tick: (label) => place(control(label)),
    press: (words) => place(pressed(words)),
    link: (words) => pressed(words).getAttribute("href"),
    headings: () => all("h1").map((h) => squeezed(h.textContent)).join(" / "),
    refusal: (label) => {
      const field = control(label);
      return field.getAttribute("aria-invalid") ? squeezed(document.getElementById(field.getAttribute("aria-describedby")).textContent) : "";
    },
    // Headline figures as “value unit”.
    figures: () => all(".fig > span").map((f) => squeezed(f.textContent)),
    ways: () => all("a[href]").map((a) => a.href.split("#")[0]),
    due: () => all("ul.due > li").map((l) => squeezed(l.textContent)),
    drawn: (kind) => all("svg path." + kind).map((p) => p.getAttribute("d")).join(""),
    text: () => squeezed(document.body.innerText),
    whole: () => squeezed(document.body.textContent), // with what is folded away
  };
})()
