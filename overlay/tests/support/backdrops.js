// Pictures that stand in for video behind the graphic, all drawn here and of
// nobody: a bright court from a camera above it, a dim hall under its lamps, and
// a stand full of people. Each is as soft and grainy as a picture from a camera,
// and the same every time.

export const BACKDROPS = ["court", "hall", "crowd"];

/**
 * Painted once, for it takes a second or two each.
 * @param {import("playwright-core").Page} page any page
 * @returns {Promise<Record<string, string>>} addresses of the pictures
 */
export async function paintBackdrops(page) {
  const painted = {};
  for (const kind of BACKDROPS) painted[kind] = await page.evaluate(paint, kind);
  return painted;
}

/**
 * Lays a picture behind what the page shows. Run in the page.
 * @param {string} picture
 */
export async function layBehind(picture) {
  document.querySelector("#backdrop")?.remove();
  const image = document.createElement("img");
  image.id = "backdrop";
  image.alt = "";
  image.style.cssText = "position: fixed; inset: 0; width: 100vw; height: 100vh; z-index: -1";
  image.src = picture;
  document.body.append(image);
  await image.decode();
}

/**
 * Run in the page, so it stands alone.
 * @param {string} kind
 */
function paint(kind) {
  const [wide, high] = [1920, 1080];
  let seed = 5;
  const random = () => (seed = (seed * 1103515245 + 12345) % 2147483648) / 2147483648;
  const between = (least, most) => least + (most - least) * random();
  const any = (list) => list[Math.floor(random() * list.length)];
  const sheet = (width, height) => Object.assign(document.createElement("canvas"), { width, height });
  const scene = sheet(wide, high);
  let pen = scene.getContext("2d");

  const SKIN = ["#f0c9a8", "#d9a47c", "#b97f56", "#8a5a3b", "#5f3d29"];
  const HAIR = ["#1d1713", "#3a281c", "#6b4a2c", "#a9824f", "#8d8d8d", "#d8d4cc"];
  const CLOTHES = [
    "#f2f2ee",
    "#23272e",
    "#27496d",
    "#7a2f38",
    "#d6b23e",
    "#3f7d58",
    "#b9c7d4",
    "#8c5a86",
    "#d97742",
    "#59636e",
    "#e4dccb",
    "#2f8f9d",
  ];

  /** A gradient from above to below. */
  const downward = (from, to, ...colors) => {
    const gradient = pen.createLinearGradient(0, from, 0, to);
    colors.forEach((color, at) => gradient.addColorStop(at / (colors.length - 1), color));
    return gradient;
  };
  const glow = (x, y, radius, ...stops) => {
    const gradient = pen.createRadialGradient(x, y, 0, x, y, radius);
    for (const [at, color] of stops) gradient.addColorStop(at, color);
    pen.fillStyle = gradient;
    pen.fillRect(x - radius, y - radius, 2 * radius, 2 * radius);
  };
  const fill = (color, corners) => {
    pen.fillStyle = color;
    pen.beginPath();
    for (const [x, y] of corners) pen.lineTo(x, y);
    pen.fill();
  };
  const oval = (color, x, y, rx, ry, turn = 0) => {
    pen.fillStyle = color;
    pen.beginPath();
    pen.ellipse(x, y, rx, ry, turn, 0, 7);
    pen.fill();
  };
  /** What is drawn in `draw`, out of focus by so many pixels: once as a whole, for each stroke is slow. */
  const soft = (pixels, draw) => {
    const below = pen;
    const layer = sheet(wide, high);
    pen = layer.getContext("2d");
    draw();
    pen = below;
    pen.filter = `blur(${pixels}px)`;
    pen.drawImage(layer, 0, 0);
    pen.filter = "none";
  };

  /**
   * A camera behind the near end: feet on the court to the picture. The court is
   * 20 by 44 feet, x to the right, y away from the camera, z up.
   */
  const camera =
    ({ back, up, down, zoom }) =>
    (x, y, z = 0) => {
      const [ahead, over] = [y + back, z - up];
      const depth = ahead * Math.cos(down) - over * Math.sin(down);
      const above = ahead * Math.sin(down) + over * Math.cos(down);
      return [wide / 2 + (zoom * x) / depth, high / 2 - (zoom * above) / depth, zoom / depth];
    };

  /** The court with its lines, net and four players, as the camera sees it. */
  const court = (see, { around, end, inside, kitchen, line, shadow, lean }) => {
    const flat = (color, x1, y1, x2, y2) => fill(color, [see(x1, y1), see(x2, y1), see(x2, y2), see(x1, y2)]);
    flat(around, -25, -34, 25, end);
    flat(inside, -10, -22, 10, 22);
    flat(kitchen, -10, -7, 10, 7);
    const w = 0.13;
    for (const y of [-22, -7, 7, 22]) flat(line, -10, y - w, 10, y + w);
    for (const x of [-10, 10]) flat(line, x - w, -22, x + w, 22);
    for (const [from, to] of [
      [-22, -7],
      [7, 22],
    ])
      flat(line, -w, from, w, to);
    // The net, its shadow first.
    fill(shadow, [see(-11, 0), see(11, 0), see(11 + lean * 3, -1.5), see(-11 + lean * 3, -1.5)]);
    const player = (x, y, top, skin) => {
      const [px, py, size] = see(x, y);
      const [sx, sy] = see(x + lean * 5, y - 1.6);
      soft(2, () =>
        oval(
          shadow,
          (px + sx) / 2,
          (py + sy) / 2,
          Math.hypot(sx - px, sy - py) / 2 + size * 0.4,
          size * 0.42,
          Math.atan2(sy - py, sx - px),
        ),
      );
      const limb = (x1, y1, x2, y2, thick, color) => {
        pen.strokeStyle = color;
        pen.lineWidth = thick * size;
        pen.lineCap = "round";
        pen.beginPath();
        pen.moveTo(px + x1 * size, py - y1 * size);
        pen.lineTo(px + x2 * size, py - y2 * size);
        pen.stroke();
      };
      limb(-0.7, 0.1, -0.35, 2.2, 0.45, skin);
      limb(0.7, 0.1, 0.35, 2.2, 0.45, skin);
      limb(-0.3, 2.5, 0.3, 2.5, 1.1, "#2a2f38");
      limb(0, 3, 0, 4.3, 1.35, top);
      limb(0.5, 4.4, 1.5, 3.4, 0.4, skin);
      limb(-0.5, 4.4, -1, 3.2, 0.4, skin);
      oval("#3b3f45", px + 2 * size, py - 3.6 * size, 0.42 * size, 0.6 * size, 0.5);
      oval(skin, px, py - 5.5 * size, 0.45 * size, 0.55 * size);
      oval(any(HAIR), px, py - 5.75 * size, 0.47 * size, 0.36 * size);
    };
    player(-5, 9, "#e9e6da", SKIN[1]);
    player(4.5, 8, "#d6b23e", SKIN[3]);
    fill("#10151a66", [see(-11, 0), see(11, 0), see(11, 0, 3), see(-11, 0, 3)]);
    fill(line, [see(-11, 0, 2.8), see(11, 0, 2.8), see(11, 0, 3.05), see(-11, 0, 3.05)]);
    for (const x of [-11, 11])
      fill("#20262c", [see(x - 0.15, 0), see(x + 0.15, 0), see(x + 0.15, 0, 3.1), see(x - 0.15, 0, 3.1)]);
    player(-4, -9, "#27496d", SKIN[0]);
    player(5, -20, "#7a2f38", SKIN[2]);
  };

  /** Somebody seated, seen from the front: shoulders, head, hair or a cap. */
  const spectator = (x, y, size, dim = 0) => {
    const [cloth, skin, hair] = [any(CLOTHES), any(SKIN), any(HAIR)];
    oval(cloth, x, y + size * 1.35, size * 1.15, size * 1.05);
    if (random() < 0.35) oval(any(CLOTHES), x, y + size * 1.6, size * 0.45, size * 0.9);
    oval("#00000038", x + size * 0.55, y + size * 1.5, size * 0.6, size * 0.9);
    oval("#ffffff1c", x - size * 0.45, y + size * 0.9, size * 0.5, size * 0.4);
    oval(skin, x, y + size * 0.45, size * 0.24, size * 0.35);
    const turn = between(-0.25, 0.25);
    oval(hair, x, y - size * 0.12, size * 0.53, size * 0.58, turn);
    oval(skin, x + turn * size * 0.5, y + size * 0.06, size * 0.42, size * 0.5, turn);
    oval("#00000030", x + size * 0.22, y + size * 0.14, size * 0.2, size * 0.4, turn);
    if (random() < 0.3) {
      const cap = any(CLOTHES);
      oval(cap, x, y - size * 0.34, size * 0.52, size * 0.3, turn);
      oval(cap, x + turn * size, y - size * 0.18, size * 0.6, size * 0.1, turn);
    }
    if (random() < 0.08)
      for (const side of [-1, 1])
        oval(
          skin,
          x + side * size * between(0.7, 1),
          y - size * between(0.2, 0.9),
          size * 0.2,
          size * 0.55,
          side * 0.3,
        );
    if (dim > 0) oval(`rgba(6, 10, 16, ${dim})`, x, y + size * 0.7, size * 1.3, size * 1.9);
  };
  const rows = (from, to, size, grows, blur, dim = 0) => {
    for (let y = from, now = size; y < to; y += now * 1.5, now += grows) {
      soft(blur, () => {
        fill(`rgba(12, 14, 20, ${0.3 + dim / 3})`, [
          [0, y + now],
          [wide, y + now],
          [wide, y + now * 4],
          [0, y + now * 4],
        ]);
        for (let x = between(-now, 0); x < wide + now; x += now * between(2, 2.5))
          if (random() < 0.95) spectator(x, y + between(-0.2, 0.2) * now, now, dim);
      });
    }
  };

  if (kind === "court") {
    // Early afternoon: a tree line and a fence far off, a mast's and a roof's shadow.
    fill(downward(0, 190, "#bcd7ea", "#e6eef0"), [
      [0, 0],
      [wide, 0],
      [wide, 200],
      [0, 200],
    ]);
    soft(5, () => {
      for (let tree = 0; tree < 110; tree += 1)
        oval(
          any(["#48703f", "#5c8a4b", "#3a5c37", "#6f9a55"]),
          between(-40, wide + 40),
          between(70, 165),
          between(30, 80),
          between(25, 60),
        );
    });
    fill("#b9bfb4", [
      [0, 150],
      [wide, 150],
      [wide, high],
      [0, high],
    ]);
    fill(downward(110, 215, "#23483f", "#1b3a34"), [
      [0, 118],
      [wide, 118],
      [wide, 205],
      [0, 205],
    ]);
    soft(1.5, () => {
      for (let x = -10; x < wide; x += between(34, 60)) if (random() < 0.6) spectator(x, 180, 15);
    });
    const see = camera({ back: 60, up: 38, down: 0.56, zoom: 2120 });
    court(see, {
      end: 37,
      around: downward(160, high, "#6cb58c", "#4f9c74"),
      inside: downward(200, high, "#5fa9dd", "#3786c4"),
      kitchen: downward(300, 700, "#4f9bd2", "#3f8fca"),
      line: "#f8fbfb",
      shadow: "#0b243c66",
      lean: 1,
    });
    soft(7, () => {
      fill("#0a22363d", [
        [0, 640],
        [520, 520],
        [880, high],
        [0, high],
      ]);
      fill("#0a223633", [see(9, 30), see(9.8, 30), see(-16, -30), see(-18, -30)]);
    });
    glow(1500, 320, 900, [0, "#fffbe84d"], [1, "#fffbe800"]);
  } else if (kind === "hall") {
    fill(downward(0, 330, "#07090c", "#131a20", "#1b242a"), [
      [0, 0],
      [wide, 0],
      [wide, 340],
      [0, 340],
    ]);
    pen.strokeStyle = "#1c242b";
    for (let beam = 0; beam < 13; beam += 1) {
      pen.lineWidth = 7;
      pen.strokeRect(-60 + beam * 160, -20 + (beam % 2) * 8, 150, 150);
    }
    rows(196, 300, 15, 2, 2, 0.72);
    fill("#1a2126", [
      [0, 310],
      [wide, 310],
      [wide, 390],
      [0, 390],
    ]);
    for (let panel = 0; panel < 9; panel += 1)
      fill(any(["#27343b", "#2d2a33", "#233a3a"]), [
        [panel * 215, 318],
        [209 + panel * 215, 318],
        [209 + panel * 215, 384],
        [panel * 215, 384],
      ]);
    fill(downward(370, high, "#2a221a", "#3d3022", "#221a13"), [
      [0, 384],
      [wide, 384],
      [wide, high],
      [0, high],
    ]);
    soft(1, () => {
      for (let board = 0; board < 60; board += 1)
        fill(`rgba(0, 0, 0, ${between(0.03, 0.16)})`, [
          [wide / 2 + (board - 30) * 40, 384],
          [wide / 2 + (board - 30) * 40 + 18, 384],
          [wide / 2 + (board - 30) * 130 + 60, high],
          [wide / 2 + (board - 30) * 130, high],
        ]);
    });
    const see = camera({ back: 70, up: 26, down: 0.36, zoom: 2150 });
    court(see, {
      end: 29,
      around: "#1d3036cc",
      inside: "#24505cee",
      kitchen: "#2b5c66",
      line: "#c8d2cf",
      shadow: "#00000080",
      lean: -0.5,
    });
    for (let lamp = 0; lamp < 6; lamp += 1) {
      const x = 180 + lamp * 312;
      glow(x, 96, 170, [0, "#fff4d8"], [0.07, "#ffeec4c0"], [0.3, "#c9b98a30"], [1, "#c9b98a00"]);
      fill("#fffdf4", [
        [x - 38, 88],
        [x + 38, 88],
        [x + 30, 102],
        [x - 30, 102],
      ]);
      // What the varnish gives back.
      soft(24, () => oval("#e9dcb51f", wide / 2 + (x - wide / 2) * 1.25, 760, 70, 260));
    }
    const dusk = pen.createRadialGradient(wide / 2, 620, 200, wide / 2, 560, 1150);
    dusk.addColorStop(0, "#00000000");
    dusk.addColorStop(1, "#000000c8");
    pen.fillStyle = dusk;
    pen.fillRect(0, 0, wide, high);
  } else {
    fill("#22262d", [
      [0, 0],
      [wide, 0],
      [wide, high],
      [0, high],
    ]);
    const gangway = [
      [1180, -10],
      [1252, -10],
      [1470, high + 10],
      [1340, high + 10],
    ];
    rows(-30, 300, 26, 1.5, 5);
    rows(290, 700, 34, 2.5, 4);
    rows(690, high + 60, 48, 4, 3);
    // A gangway with its steps, a rail in front, and light from one side.
    soft(4, () => {
      fill("#6d6a63", gangway);
      for (let step = 0; step < 24; step += 1) {
        const [y, at] = [step * 46, (step * 46) / high];
        fill("#a9a59a", [
          [1180 + 160 * at, y],
          [1252 + 218 * at, y],
          [1252 + 218 * at, y + 9],
          [1180 + 160 * at, y + 9],
        ]);
      }
    });
    soft(6, () =>
      fill("#d9dee2", [
        [0, 985],
        [wide, 960],
        [wide, 984],
        [0, 1010],
      ]),
    );
    glow(300, -80, 1300, [0, "#fff3d466"], [1, "#fff3d400"]);
    fill(downward(0, high, "#00000033", "#00000000", "#0000004d"), [
      [0, 0],
      [wide, 0],
      [wide, high],
      [0, high],
    ]);
  }

  const canvas = sheet(wide, high);
  const film = canvas.getContext("2d");
  film.filter = "blur(0.8px)";
  film.drawImage(scene, 0, 0);
  film.filter = "none";
  // A sensor's grain, in tiles.
  const tile = sheet(256, 256);
  const grain = tile.getContext("2d");
  const dots = grain.createImageData(256, 256);
  for (let at = 0; at < dots.data.length; at += 4) {
    dots.data.fill(random() < 0.5 ? 0 : 255, at, at + 3);
    dots.data[at + 3] = random() * 16;
  }
  grain.putImageData(dots, 0, 0);
  film.fillStyle = film.createPattern(tile, "repeat");
  film.fillRect(0, 0, wide, high);
  return canvas.toDataURL();
}
