// What a chart gets wrong and no general checker sees: run in a page, gives a list of faults as texts.
// Labels too pale, labels that touch each other, labels on a data line or mark, labels outside of the drawing, pale marks.
() => {
  const faults = [];
  const say = (svg, what) => faults.push(`${svg.querySelector("title").id}: ${what}`);

  const luminance = (colour) => {
    const [r, g, b] = colour.map((part) => part / 255).map((part) => (part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const parse = (text) => (text.match(/[\d.]+/g) || []).slice(0, 3).map(Number);
  const contrast = (one, other) => {
    const [light, dark] = [luminance(one), luminance(other)].sort((a, b) => b - a);
    return (light + 0.05) / (dark + 0.05);
  };

  // The ink of a label: from the height of its capitals to the foot of its descenders.
  const inkBox = (text) => {
    const box = text.getBBox(), size = parseFloat(getComputedStyle(text).fontSize), foot = Number(text.getAttribute("y"));
    return { left: box.x, right: box.x + box.width, top: foot - 0.68 * size, bottom: foot + 0.2 * size, words: text.textContent };
  };
  const touch = (a, b) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;

  // Whether a straight stretch enters a box (Liang and Barsky, 1984).
  const enters = (box, [x0, y0], [x1, y1]) => {
    let start = 0, end = 1;
    for (const [step, room] of [[x0 - x1, x0 - box.left], [x1 - x0, box.right - x0], [y0 - y1, y0 - box.top], [y1 - y0, box.bottom - y0]]) {
      if (step === 0) { if (room < 0) return false; }
      else if (step < 0) { start = Math.max(start, room / step); }
      else { end = Math.min(end, room / step); }
    }
    return start < end;
  };
  const stretches = (path) => {
    const points = (path.getAttribute("d").match(/[ML][^MLCZ]*/g) || []).map((part) => [part[0], ...part.slice(1).trim().split(/[ ,]+/).map(Number)]);
    return points.slice(1).filter((point) => point[0] === "L").map((point, index) => [points[index].slice(1), point.slice(1)]);
  };
  const boxOf = (shape) => { const box = shape.getBBox(); return { left: box.x, right: box.x + box.width, top: box.y, bottom: box.y + box.height }; };

  const paper = parse(getComputedStyle(document.body).backgroundColor);
  for (const svg of document.querySelectorAll("svg.chart")) {
    if (svg.getBoundingClientRect().width === 0) continue;
    const view = svg.viewBox.baseVal;
    const labels = [...svg.querySelectorAll("text")].map((text) => ({ ...inkBox(text), fill: parse(getComputedStyle(text).fill) }));
    const shapes = [...svg.querySelectorAll("path")];
    labels.forEach((label, index) => {
      if (contrast(label.fill, paper) < 4.5) say(svg, `label "${label.words}" has contrast ${contrast(label.fill, paper).toFixed(2)}`);
      if (label.left < -1.5 || label.top < -0.5 || label.right > view.width + 1.5 || label.bottom > view.height + 0.5) say(svg, `label "${label.words}" leaves the drawing`);
      labels.slice(index + 1).filter((other) => touch(label, other)).forEach((other) => say(svg, `labels "${label.words}" and "${other.words}" touch`));
    });
    for (const shape of shapes) {
      const style = getComputedStyle(shape), classes = shape.classList;
      const decoration = ["s-rule", "f-band"].some((name) => classes.contains(name));   // their values stand in the table
      if (!decoration) {
        const colours = [style.fill, style.stroke].filter((colour) => colour !== "none").map(parse);
        const best = Math.max(...colours.map((colour) => contrast(colour, paper)));
        if (best < 3) say(svg, `a ${shape.getAttribute("class")} mark has contrast ${best.toFixed(2)}`);
      }
      if (classes.contains("f-band")) {
        labels.filter((label) => touch(label, boxOf(shape)) && contrast(label.fill, parse(style.fill)) < 4.5).forEach((label) => say(svg, `label "${label.words}" is pale on the band`));
      } else if (classes.contains("f-none") && !classes.contains("s-rule")) {
        const lines = stretches(shape);
        labels.filter((label) => lines.some(([from, to]) => enters(label, from, to))).forEach((label) => say(svg, `label "${label.words}" lies on a ${style.stroke} line`));
      } else if (!classes.contains("f-none")) {
        labels.filter((label) => touch(label, boxOf(shape))).forEach((label) => say(svg, `label "${label.words}" lies on a ${shape.getAttribute("class")} mark`));
      }
      const box = boxOf(shape);
      if (box.left < -1 || box.top < -1 || box.right > view.width + 1 || box.bottom > view.height + 1) say(svg, `a ${shape.getAttribute("class")} mark leaves the drawing`);
    }
  }
  return faults;
}
