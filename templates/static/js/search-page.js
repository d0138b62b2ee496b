/* The page: a field, how many batches were found, and the list of them. What people wrote reaches the page as text only. */
"use strict";

(() => {
  const { filled } = wortledgerWords;
  const MOST = 50;   // batches that are listed
  const PAUSE = 200; // ms of rest after a letter
  const ASKED = "#q=";
  const FIELDS = ["ingredients", "figures", "lessons", "notes"];
  const place = document.getElementById("search");
  const say = place.dataset;

  function spoken(day) {
    const [year, month, date] = day.split("-").map(Number);
    return `${date} ${say.months.split(" ")[month - 1]} ${year}`;
  }

  function element(tag, className, text) {
    const made = document.createElement(tag);
    if (className) made.className = className;
    if (text) made.textContent = text;
    return made;
  }

  function form() {
    const made = element("form", "tools screen");
    made.setAttribute("role", "search");
    const label = element("label", "", say.label);
    label.htmlFor = "find";
    const field = element("input");
    Object.assign(field, { id: "find", type: "search", autocomplete: "off", maxLength: 200 });
    made.append(label, field);
    return made;
  }

  function item({ batch, where }) {
    const made = element("li");
    const link = element("a", "bare", batch.title);
    link.href = `batches/${encodeURIComponent(batch.slug)}.html`;
    const about = [batch.recipe, spoken(batch.brewed), batch.brewer].filter(Boolean).join(", ");
    made.append(link, " ", element("span", "quiet", about));
    const fields = FIELDS.filter(field => where[field]).map(field => `${say[field]}: ${[...where[field]].slice(0, 6).join(", ")}`);
    if (fields.length) made.append(element("p", "found", `${fields.join("; ")}.`));
    return made;
  }

  function summary({ wanted, all, found }, query) {
    if (!query.trim()) return "";
    if (!wanted.length) return say.common;
    if (!found.length) return say.none;
    const text = found.length === 1 ? (all ? say.one : say.oneSome) : all ? say.many : say.manySome;
    return filled(text, { n: found.length }) + (found.length > MOST ? ` ${filled(say.first, { n: MOST })}` : "");
  }

  const index = new wortledgerSearch.Index(wortledgerIndex, spoken);
  const box = form();
  const field = box.querySelector("input");
  const said = element("p", "quiet");
  said.setAttribute("role", "status");
  const list = element("ol", "results");
  let waiting = 0;

  function look() {
    clearTimeout(waiting);
    const result = index.find(field.value);
    said.textContent = summary(result, field.value);
    list.replaceChildren(...result.found.slice(0, MOST).map(item));
    list.hidden = !list.childElementCount;   // a list of nothing is no list
  }

  function fromAddress() {
    if (!location.hash.startsWith(ASKED)) return;
    try {
      field.value = decodeURIComponent(location.hash.slice(ASKED.length));
    } catch {   // a broken escape in the address
      field.value = "";
    }
    look();
  }

  field.addEventListener("input", () => {
    clearTimeout(waiting);
    waiting = setTimeout(look, PAUSE);
  });
  box.addEventListener("submit", event => {
    event.preventDefault();
    look();
  });
  field.addEventListener("change", () => {   // so that the way back from a batch leads to what was found
    location.replace(`${ASKED}${encodeURIComponent(field.value.trim())}`);
  });
  addEventListener("hashchange", fromAddress);
  place.replaceChildren(box, said, list);
  look();
  fromAddress();
})();
