// Looks in the page for what lies wrongly: run by `page.evaluate`, so each
// function stands alone.

/** Pieces of the graphic that cover each other or leave the inner 90 %. */
export function crossings() {
  const wrong = [];
  const plates = [...document.querySelectorAll(".rt-score, .rt-moment, .rt-named, .rt-tide, .rt-ribbon")];
  const boxes = plates
    .map((node) => ({ name: node.className, ...node.getBoundingClientRect().toJSON() }))
    .filter(({ width }) => width > 0);
  const safe = {
    left: innerWidth * 0.05,
    right: innerWidth * 0.95,
    top: innerHeight * 0.05,
    bottom: innerHeight * 0.95,
  };
  for (const [at, one] of boxes.entries()) {
    if (
      one.left < safe.left - 1 ||
      one.right > safe.right + 1 ||
      one.top < safe.top - 1 ||
      one.bottom > safe.bottom + 1
    )
      wrong.push(`${one.name} leaves the picture`);
    for (const other of boxes.slice(at + 1)) {
      const across = Math.min(one.right, other.right) - Math.max(one.left, other.left);
      const down = Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top);
      if (across > 1 && down > 1) wrong.push(`${one.name} covers ${other.name}`);
    }
  }
  return wrong;
}

/** Words that are drawn outside the plate they stand on, or over each other. */
export function spills() {
  const wrong = [];
  const words =
    ".rt-name, .rt-note > span, .rt-points, .rt-final, .rt-game, .rt-call, .rt-title, .rt-count, .rt-state, .rt-because, .rt-value, .rt-label, text";
  for (const plate of document.querySelectorAll(".rt-row, .rt-foot, .rt-moment, .rt-tide, .rt-named, .rt-ribbon")) {
    const edge = plate.getBoundingClientRect();
    const parts = [...plate.querySelectorAll(words)]
      .map((node) => ({ node, box: node.getBoundingClientRect() }))
      .filter(({ box }) => box.width > 0 && box.height > 0);
    for (const [at, { node, box }] of parts.entries()) {
      if (
        box.left < edge.left - 1 ||
        box.right > edge.right + 1 ||
        box.top < edge.top - 1 ||
        box.bottom > edge.bottom + 1
      ) {
        wrong.push(`${node.textContent} leaves .${plate.className}`);
      }
      for (const { node: other, box: beside } of parts.slice(at + 1)) {
        if (node.contains(other) || node.localName === "text") continue;
        const across = Math.min(box.right, beside.right) - Math.max(box.left, beside.left);
        const down = Math.min(box.bottom, beside.bottom) - Math.max(box.top, beside.top);
        if (across > 1 && down > 3) wrong.push(`${node.textContent} lies over ${other.textContent}`);
      }
    }
  }
  return wrong;
}
