// Counts flashes in a film of frames, after WCAG 2.2, "general flash and red
// flash thresholds" (w3c/wcag, guidelines/terms/20, note for SC 2.3.1):
// - a general flash is a pair of opposing changes of relative luminance of 0.1
//   or more where the darker is below 0.8;
// - a red flash is a pair of opposing changes to or from a saturated red
//   (R / (R + G + B) at least 0.8, linear) of more than 0.2 in the CIE 1976 UCS
//   diagram;
// - what flashes at once counts where it covers a quarter of a field of 10°,
//   estimated as 341 × 256 pixels of a picture 1024 wide.
// Simplified, each time to the strict side: fields are looked at every eighth of
// their size; changes of one way within a sixth of a second are added up; frames have
// an alpha channel and are laid over black, grey and white, since nobody knows
// the video behind.

const CELLS = 8;
const QUARTER = 0.25;
/** More than three a second leave each way less than a sixth of a second. */
const CONCURRENT_MS = 167;
const BEHIND = [0, 128, 255];

const LINEAR = Float64Array.from({ length: 256 }, (_, value) => {
  const share = value / 255;
  return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
});

export class FlashMeter {
  /** Most flashes within any second, in any field, over any backdrop. */
  worst = { general: 0, red: 0 };
  /** When the worst second ended, ms. */
  worstAt = { general: 0, red: 0 };
  frames = 0;
  /** Changes of a quarter of a field, over all backdrops: that something was seen. */
  changes = 0;
  #width;
  #cell;
  #columns;
  #rows;
  /** @type {Uint32Array | null} */
  #before = null;
  #films;

  /**
   * @param {number} width of the picture
   * @param {number} height
   */
  constructor(width, height) {
    this.#width = width;
    this.#cell = { wide: (width * 341) / 1024 / CELLS, high: (width * 256) / 1024 / CELLS };
    this.#columns = Math.ceil(width / this.#cell.wide);
    this.#rows = Math.ceil(height / this.#cell.high);
    this.#films = BEHIND.map((grey) => ({
      grey,
      general: new Changes(width * height, this.#columns, this.#rows),
      red: new Changes(width * height, this.#columns, this.#rows),
      peak: new Float32Array(width * height),
      state: new Float32Array(width * height * 3),
    }));
  }

  /**
   * @param {number} at ms, never going back
   * @param {Buffer} rgba
   */
  frame(at, rgba) {
    const now = new Uint32Array(rgba.buffer.slice(rgba.byteOffset, rgba.byteOffset + rgba.byteLength));
    const before = this.#before;
    this.#before = now;
    this.frames += 1;
    for (let pixel = 0; pixel < now.length; pixel += 1) {
      if (before !== null && before[pixel] === now[pixel]) continue;
      const cell = this.#cellOf(pixel);
      for (const film of this.#films) this.#look(film, pixel, cell, rgba, before === null);
    }
    const field = this.#cell.wide * this.#cell.high * CELLS * CELLS;
    for (const film of this.#films) {
      for (const kind of /** @type {const} */ (["general", "red"])) {
        const { flashes, changes } = film[kind].close(at, field * QUARTER);
        this.changes += changes;
        if (flashes > this.worst[kind]) {
          this.worst[kind] = flashes;
          this.worstAt[kind] = at;
        }
      }
    }
  }

  #cellOf(pixel) {
    const column = Math.floor((pixel % this.#width) / this.#cell.wide);
    const row = Math.floor(Math.floor(pixel / this.#width) / this.#cell.high);
    return row * this.#columns + column;
  }

  #look({ grey, general, red, peak, state }, pixel, cell, rgba, isFirst) {
    const alpha = rgba[pixel * 4 + 3] / 255;
    const over = (channel) => LINEAR[Math.round(rgba[pixel * 4 + channel] * alpha + grey * (1 - alpha))];
    const [r, g, b] = [over(0), over(1), over(2)];
    const light = 0.2126 * r + 0.7152 * g + 0.0722 * b;
    const isRed = r > 0 && r / (r + g + b) >= 0.8 ? 1 : 0;
    const [u, v] = chromaticity(r, g, b);
    if (isFirst) {
      peak[pixel] = light;
      state.set([isRed, u, v], pixel * 3);
      return;
    }
    // Peaks and valleys: a change counts from the last extreme on.
    const way = general.way[pixel];
    const step = light - peak[pixel];
    if (way !== 0 && Math.sign(step) === way) peak[pixel] = light;
    else if (Math.abs(step) >= 0.1 && Math.min(light, peak[pixel]) < 0.8) {
      general.note(pixel, cell, Math.sign(step));
      peak[pixel] = light;
    }
    const [wasRed, wasU, wasV] = state.subarray(pixel * 3, pixel * 3 + 3);
    if ((isRed || wasRed) && Math.hypot(u - wasU, v - wasV) > 0.2) {
      const toward = isRed ? 1 : -1;
      if (red.way[pixel] !== toward) red.note(pixel, cell, toward);
      state.set([isRed, u, v], pixel * 3);
    } else if (red.way[pixel] === 0) state.set([isRed, u, v], pixel * 3);
  }
}

/** Opposing changes: of each pixel its last way, of each field its events. */
class Changes {
  way;
  #columns;
  #rows;
  #noted;
  /** Of the last moments, per cell: how many pixels went up, went down. */
  #recent = [];
  #fields;

  constructor(pixels, columns, rows) {
    this.way = new Int8Array(pixels);
    this.#columns = columns;
    this.#rows = rows;
    this.#noted = [new Uint32Array(columns * rows), new Uint32Array(columns * rows)];
    this.#fields = Array.from({ length: Math.max(1, columns - CELLS + 1) * Math.max(1, rows - CELLS + 1) }, () => ({
      last: 0,
      since: [-1, -1],
      events: [],
    }));
  }

  note(pixel, cell, way) {
    this.way[pixel] = way;
    this.#noted[way > 0 ? 0 : 1][cell] += 1;
  }

  /** Ends a frame; flashes of the busiest field in the second before `at`. */
  close(at, enough) {
    const isQuiet = this.#noted.every((counts) => counts.every((count) => count === 0));
    if (isQuiet) return { flashes: 0, changes: 0 };
    this.#recent = [...this.#recent.filter((one) => one.at > at - CONCURRENT_MS), { at, counts: this.#noted }];
    this.#noted = [new Uint32Array(this.#columns * this.#rows), new Uint32Array(this.#columns * this.#rows)];
    let flashes = 0;
    let changes = 0;
    const across = Math.max(1, this.#columns - CELLS + 1);
    for (const [index, field] of this.#fields.entries()) {
      for (const side of [0, 1]) {
        if (this.#area(index % across, Math.floor(index / across), side, field.since[side]) < enough) continue;
        // What counted once does not count again.
        field.since[side] = at;
        const way = side === 0 ? 1 : -1;
        if (field.last === way) continue;
        field.last = way;
        field.events.push(at);
        changes += 1;
      }
      field.events = field.events.filter((when) => when > at - 1000);
      flashes = Math.max(flashes, Math.floor(field.events.length / 2));
    }
    return { flashes, changes };
  }

  #area(column, row, side, since) {
    let sum = 0;
    for (const { at, counts } of this.#recent) {
      if (at <= since) continue;
      for (let y = row; y < Math.min(row + CELLS, this.#rows); y += 1) {
        for (let x = column; x < Math.min(column + CELLS, this.#columns); x += 1)
          sum += counts[side][y * this.#columns + x];
      }
    }
    return sum;
  }
}

/** CIE 1976 u′ v′ of linear sRGB (IEC 61966-2-1 primaries, D65); black: that of white. */
function chromaticity(r, g, b) {
  const x = 0.4124 * r + 0.3576 * g + 0.1805 * b;
  const y = 0.2126 * r + 0.7152 * g + 0.0722 * b;
  const z = 0.0193 * r + 0.1192 * g + 0.9505 * b;
  const all = x + 15 * y + 3 * z;
  return all === 0 ? [0.1978, 0.4683] : [(4 * x) / all, (9 * y) / all];
}
