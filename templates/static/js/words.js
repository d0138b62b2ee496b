/* Words as they are looked for: without capitals and accents. The index is made the same way. */
"use strict";

const wortledgerWords = (() => {
  const ALIKE = { "æ": "ae", "œ": "oe", "ø": "o", "đ": "d", "ð": "d", "þ": "th", "ł": "l", "ı": "i", "ß": "ss", "ς": "σ" };
  const LONGEST = 40;

  function fold(text) {
    return text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase().replace(/[æœøđðþłıßς]/g, letter => ALIKE[letter]);
  }

  function words(text) {
    const found = fold(text).match(/\p{Nd}+(?:[.,]\p{Nd}+)+|[\p{L}\p{N}]+/gu) || [];
    return found.map(word => [...word.replaceAll(",", ".")].slice(0, LONGEST).join(""));
  }

  /* "%n of %all" with its numbers. */
  function filled(text, values) {
    return text.replace(/%(\w+)/g, (whole, name) => name in values ? values[name] : whole);
  }

  return { fold, words, filled };
})();
