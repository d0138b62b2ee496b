/* Looks up words in the index that `search-index.js` sets, and lists the batches that have them. */
"use strict";

const wortledgerSearch = (() => {
  const { words } = wortledgerWords;
  const DIGITS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ!#$%()*+,-/:;=?@[]^_{|}";
  const LAST = 40;
  const WEIGHTS = { name: 8, ingredients: 5, lessons: 4, figures: 3, notes: 2, date: 1 };

  function numbers(signs) {
    const found = [];
    let before = -1, carried = 0;
    for (const sign of signs) {
      const digit = DIGITS.indexOf(sign);
      if (digit >= LAST) {
        carried = carried * (DIGITS.length - LAST) + digit - LAST + 1;
      } else {
        before += carried * LAST + digit + 1;
        found.push(before);
        carried = 0;
      }
    }
    return found;
  }

  /* Every word of the stories and lessons with its batches. */
  function unpacked(packed) {
    const signs = `[${DIGITS.replace(/[\]\\^-]/g, "\\$&")}~]`;
    let before = "";
    return [...packed.matchAll(new RegExp(`([0-9a-z])((?:(?!${signs}).)+)(${signs}+)`, "gsu"))].map(([, shared, rest, postings]) => {
      before = before.slice(0, Number.parseInt(shared, 36)) + rest;
      const [story, lessons = ""] = postings.split("~");
      return { word: before, notes: numbers(story), lessons: numbers(lessons) };
    });
  }

  function batchesOf(index, spoken) {
    const withWords = text => ({ text, words: words(text) });
    const allNames = index.names.map(withWords), labels = index.labels.map(withWords);
    return index.batches.map(([slug, title, recipe, brewed, brewer, names, figures]) => ({
      slug, title: title || index.recipes[recipe], recipe: title ? index.recipes[recipe] : "", brewed, brewer,
      names: names.map(name => allNames[name]),
      figures: figures.split("|").map((value, at) => ({ label: labels[at], value })).filter(figure => figure.value),
      words: words([title, index.recipes[recipe], brewer].join(" ")), days: words(`${brewed} ${spoken(brewed)}`),
    }));
  }

  function fit(word, wanted) {
    return word === wanted ? 2 : word.startsWith(wanted) ? 1 : 0;
  }

  class Found {
    constructor(batch, place) {
      Object.assign(this, { batch, place, score: 0, matched: 0, where: {} });
    }

    add(field, text, how, best) {
      if (!how) return;
      (this.where[field] ??= new Set()).add(text);
      best[field] = Math.max(best[field] ?? 0, how * WEIGHTS[field]);
    }

    /* Figures: by their number; words of their label count only beside one of their numbers. */
    addFigures(wanted, numbersWanted, best) {
      const isNumber = numbersWanted.includes(wanted);
      for (const { label, value } of this.batch.figures) {
        const ofLabel = !isNumber && numbersWanted.some(each => fit(value, each)) && label.words.some(word => fit(word, wanted));
        this.add("figures", `${label.text} ${value}`, isNumber ? fit(value, wanted) : Number(ofLabel), best);
      }
    }

    addOwn(wanted, numbersWanted, best) {
      this.batch.words.forEach(word => this.add("name", word, fit(word, wanted), best));
      this.batch.days.forEach(word => this.add("date", word, fit(word, wanted), best));
      this.batch.names.forEach(name => name.words.forEach(word => this.add("ingredients", name.text, fit(word, wanted), best)));
      this.addFigures(wanted, numbersWanted, best);
    }

    close(best) {
      const gained = Object.values(best).reduce((sum, each) => sum + each, 0);
      this.score += gained;
      this.matched += gained > 0;
    }
  }

  class Index {
    /* `spoken` gives a day in words. */
    constructor(index, spoken) {
      this.words = unpacked(index.words);
      this.batches = batchesOf(index, spoken);
      this.common = new Set(index.common);
    }

    /* Best first: more of the words, then a higher score, then the newer batch. */
    find(query) {
      const wanted = [...new Set(words(query))].filter(word => !this.common.has(word) && !/^[a-z]$/.test(word));
      const numbersWanted = wanted.filter(word => /^\p{Nd}/u.test(word));
      const found = this.batches.map((batch, place) => new Found(batch, place));
      for (const each of wanted) {
        const best = found.map(() => ({}));
        found.forEach((one, place) => one.addOwn(each, numbersWanted, best[place]));
        for (const entry of this.words) {
          const how = fit(entry.word, each);
          if (!how) continue;
          entry.notes.forEach(place => found[place].add("notes", entry.word, how, best[place]));
          entry.lessons.forEach(place => found[place].add("lessons", entry.word, how, best[place]));
        }
        found.forEach((one, place) => one.close(best[place]));
      }
      const most = Math.max(0, ...found.map(one => one.matched));
      const kept = found.filter(one => one.matched && one.matched === most);
      kept.sort((one, other) => other.score - one.score || one.place - other.place);
      return { wanted, all: most === wanted.length, found: kept };
    }
  }

  return { Index };
})();
