// Reads a PNG into RGBA pixels: 8 bits a channel, RGB or RGBA, not interlaced,
// which is what the browser's screenshots are. Enough for tests, no more.
// Format: PNG (Portable Network Graphics) Specification, W3C.

import { inflateSync } from "node:zlib";

/** @param {Buffer} file */
export function readPng(file) {
  const width = file.readUInt32BE(16);
  const height = file.readUInt32BE(20);
  const [depth, color, , , interlace] = file.subarray(24, 29);
  if (depth !== 8 || interlace !== 0 || (color !== 2 && color !== 6))
    throw new Error("a PNG this reader does not know");
  const size = color === 6 ? 4 : 3;
  const parts = [];
  for (let at = 8; at < file.length; ) {
    const length = file.readUInt32BE(at);
    if (file.toString("latin1", at + 4, at + 8) === "IDAT") parts.push(file.subarray(at + 8, at + 8 + length));
    at += length + 12;
  }
  const raw = inflateSync(Buffer.concat(parts));
  const stride = width * size;
  const bytes = Buffer.alloc(stride * height);
  for (let y = 0; y < height; y += 1) unfilter(raw, bytes, y, stride, size);
  /** @param {number} x @param {number} y */
  const pixel = (x, y) => {
    const at = y * stride + x * size;
    return [bytes[at], bytes[at + 1], bytes[at + 2], size === 4 ? bytes[at + 3] : 255];
  };
  return { width, height, size, bytes, pixel };
}

/** One row, each filter in a loop of its own: films are read frame by frame. */
function unfilter(raw, bytes, y, stride, size) {
  const from = y * (stride + 1) + 1;
  const to = y * stride;
  const above = to - stride;
  const filter = raw[from - 1];
  for (let x = 0; x < stride; x += 1) {
    const left = x >= size ? bytes[to + x - size] : 0;
    const up = y > 0 ? bytes[above + x] : 0;
    const value = raw[from + x];
    if (filter === 0) bytes[to + x] = value;
    else if (filter === 1) bytes[to + x] = value + left;
    else if (filter === 2) bytes[to + x] = value + up;
    else if (filter === 3) bytes[to + x] = value + ((left + up) >> 1);
    else bytes[to + x] = value + nearest(left, up, x >= size && y > 0 ? bytes[above + x - size] : 0);
  }
}

function nearest(left, up, corner) {
  const guess = left + up - corner;
  const toLeft = Math.abs(guess - left);
  const toUp = Math.abs(guess - up);
  const toCorner = Math.abs(guess - corner);
  if (toLeft <= toUp && toLeft <= toCorner) return left;
  return toUp <= toCorner ? up : corner;
}
