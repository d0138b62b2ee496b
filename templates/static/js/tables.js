/* Tables of batches: a field that leaves only some rows, and heads that sort. Without this script the tables are as they are. */
"use strict";

(() => {
  const { fold, filled } = wortledgerWords;
  const FEW = 4;   // rows that need no field

  function collator() {
    try {
      return new Intl.Collator(document.documentElement.lang, { numeric: true });
    } catch {   // a language that the browser can't read
      return new Intl.Collator("en", { numeric: true });
    }
  }

  /* A day and a title are texts; any other column of numbers is sorted by size, whatever word follows. */
  function valueOf(row, column, isNumber) {
    const cell = row.cells[column];
    const text = cell.dataset.key ?? cell.textContent.trim();
    if (!isNumber || /^\d+-/.test(text)) return text;
    return Number.parseFloat(text.replace("\u2212", "-").replace(/^\+/, ""));
  }

  /* Rows without a value come last whichever way. */
  function sorted(rows, column, way, isNumber, byText) {
    const keyed = rows.map(row => ({ row, value: valueOf(row, column, isNumber) }));
    const blank = ({ value }) => Number(value === "" || Number.isNaN(value));
    return keyed.sort((one, other) => {
      if (blank(one) || blank(other)) return blank(one) - blank(other);
      return way * (typeof one.value === "number" ? one.value - other.value : byText.compare(one.value, other.value));
    }).map(entry => entry.row);
  }

  class Table {
    constructor(table, place) {
      this.table = table;
      this.groups = [...table.tBodies].map(body => ({ body, head: body.querySelector(".year"), rows: [...body.rows].filter(row => !row.matches(".year")) }));
      this.rows = this.groups.flatMap(group => group.rows);
      this.heads = [...table.tHead.rows[0].cells];
      this.first = this.heads.find(head => head.hasAttribute("aria-sort"));
      this.firstWay = this.first?.getAttribute("aria-sort");
      this.flat = document.createElement("tbody");
      this.flat.className = "closed";
      this.byText = collator();
      this.addButtons();
      this.addYears();
      if (this.rows.length > FEW) this.addField(place);
    }

    addButtons() {
      this.heads.forEach((head, column) => {
        const button = document.createElement("button");
        button.type = "button";
        button.append(...head.childNodes);
        button.addEventListener("click", () => this.sortBy(column));
        head.append(button);
      });
    }

    /* A day needs its year where the rows no longer stand under it. */
    addYears() {
      for (const { head, rows } of this.groups) {
        for (const row of head ? rows : []) {
          const year = document.createElement("span");
          year.className = "of-year";
          year.textContent = ` ${head.textContent.trim()}`;
          row.querySelector("[data-key]").append(year);
        }
      }
    }

    /* Upwards, then downwards, then as the table was; the column that it came sorted by begins with the other way. */
    wayAfter(head) {
      const now = head.getAttribute("aria-sort");
      if (head === this.first && now === this.firstWay) return now === "descending" ? "ascending" : "descending";
      const next = { ascending: "descending", descending: "" }[now] ?? "ascending";
      return head === this.first && next === this.firstWay ? "" : next;
    }

    sortBy(column) {
      const way = this.wayAfter(this.heads[column]);
      this.heads.forEach(head => head.removeAttribute("aria-sort"));
      if (!way) {
        this.restore();
        return;
      }
      this.heads[column].setAttribute("aria-sort", way);
      const isNumber = this.heads[column].matches(".num");
      this.show(sorted(this.rows, column, way === "descending" ? -1 : 1, isNumber, this.byText));
    }

    restore() {
      this.flat.remove();
      this.first?.setAttribute("aria-sort", this.firstWay);
      this.groups.forEach(group => { group.body.append(...group.rows); group.body.hidden = false; });
      this.table.classList.remove("flat");
      this.filter();
    }

    show(rows) {
      this.groups.forEach(group => { group.body.hidden = true; });
      this.flat.append(...rows);
      this.table.append(this.flat);
      this.table.classList.add("flat");
      this.filter();
    }

    addField(place) {
      this.words = this.rows.map(row => fold(row.textContent));
      const tools = document.createElement("p");
      tools.className = "tools screen";
      const label = document.createElement("label");
      label.htmlFor = `find-${place}`;
      label.textContent = this.table.dataset.find;
      this.field = document.createElement("input");
      this.field.id = label.htmlFor;
      this.field.type = "search";
      this.field.autocomplete = "off";
      this.said = document.createElement("span");
      this.said.setAttribute("role", "status");
      this.said.className = "quiet";
      this.field.addEventListener("input", () => this.filter());
      tools.append(label, this.field, this.said);
      this.table.before(tools);
    }

    filter() {
      if (!this.field) return;
      const wanted = fold(this.field.value).split(/\s+/).filter(Boolean);
      this.rows.forEach((row, number) => { row.hidden = !wanted.every(word => this.words[number].includes(word)); });
      this.groups.forEach(({ head, rows }) => { if (head) head.hidden = rows.every(row => row.hidden); });
      const left = this.rows.filter(row => !row.hidden).length;
      this.said.textContent = wanted.length ? filled(this.table.dataset.found, { n: left, all: this.rows.length }) : "";
    }
  }

  document.querySelectorAll("table[data-find]").forEach((table, place) => new Table(table, place + 1));
})();
