// Pictures that stand in for video behind the graphic, drawn by the page itself:
// a bright court, a dark hall, and a crowd that is never plain. Each function is
// run in the page, so it stands alone.

export const BACKDROPS = ["court", "hall", "crowd"];

/** @param {string} kind */
export function drawBackdrop(kind) {
  document.querySelector("#backdrop")?.remove();
  const canvas = document.createElement("canvas");
  canvas.id = "backdrop";
  canvas.setAttribute("aria-hidden", "true");
  canvas.style.cssText = "position: fixed; inset: 0; width: 100vw; height: 100vh; z-index: -1";
  const [wide, high] = [(canvas.width = 1920), (canvas.height = 1080)];
  const pen = canvas.getContext("2d");
  let seed = 5;
  const random = () => (seed = (seed * 1103515245 + 12345) % 2147483648) / 2147483648;
  const fill = (colour, ...corners) => {
    pen.fillStyle = colour;
    pen.beginPath();
    for (const [x, y] of corners) pen.lineTo(x, y);
    pen.fill();
  };
  if (kind === "court") {
    fill("#dfe9ec", [0, 0], [wide, 0], [wide, high], [0, high]);
    fill("#5fb18d", [330, 300], [1590, 300], [1980, high], [-60, high]);
    fill("#4f9fd6", [520, 340], [1400, 340], [1640, 1040], [280, 1040]);
    pen.strokeStyle = "#ffffff";
    pen.lineWidth = 9;
    pen.strokeRect(520, 340, 880, 4);
    for (const [x1, y1, x2, y2] of [[520, 340, 280, 1040], [1400, 340, 1640, 1040], [960, 340, 960, 520], [420, 640, 1500, 640]]) {
      pen.beginPath();
      pen.moveTo(x1, y1);
      pen.lineTo(x2, y2);
      pen.stroke();
    }
  } else if (kind === "hall") {
    fill("#0b0e12", [0, 0], [wide, 0], [wide, high], [0, high]);
    fill("#16242a", [420, 420], [1500, 420], [1800, high], [120, high]);
    for (let lamp = 0; lamp < 7; lamp += 1) {
      const glow = pen.createRadialGradient(200 + lamp * 260, 90, 4, 200 + lamp * 260, 90, 120);
      glow.addColorStop(0, "#fff6dc");
      glow.addColorStop(0.1, "#6b6552");
      glow.addColorStop(1, "#0b0e1200");
      pen.fillStyle = glow;
      pen.fillRect(60 + lamp * 260, 0, 300, 220);
    }
  } else {
    for (let y = 0; y < high; y += 18) {
      for (let x = 0; x < wide; x += 16) {
        const light = 12 + random() * 80;
        pen.fillStyle = `hsl(${random() * 360} ${20 + random() * 60}% ${light}%)`;
        pen.fillRect(x, y, 13 + random() * 8, 15 + random() * 10);
      }
    }
  }
  document.body.append(canvas);
}
