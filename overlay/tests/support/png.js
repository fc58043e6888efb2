// Reads a PNG into RGBA pixels: 8 bits a channel, RGB or RGBA, not interlaced,
// which is what the browser's screenshots are. Enough for tests, no more.
// Format: PNG (Portable Network Graphics) Specification, W3C.

import { inflateSync } from "node:zlib";

/** @param {Buffer} file */
export function readPng(file) {
  const width = file.readUInt32BE(16);
  const height = file.readUInt32BE(20);
  const [depth, colour, , , interlace] = file.subarray(24, 29);
  if (depth !== 8 || interlace !== 0 || (colour !== 2 && colour !== 6)) throw new Error("a PNG this reader does not know");
  const size = colour === 6 ? 4 : 3;
  const parts = [];
  for (let at = 8; at < file.length; ) {
    const length = file.readUInt32BE(at);
    if (file.toString("latin1", at + 4, at + 8) === "IDAT") parts.push(file.subarray(at + 8, at + 8 + length));
    at += length + 12;
  }
  const raw = inflateSync(Buffer.concat(parts));
  const stride = width * size;
  const bytes = Buffer.alloc(stride * height);
  for (let y = 0; y < height; y += 1) {
    const filter = raw[y * (stride + 1)];
    for (let x = 0; x < stride; x += 1) {
      const at = y * stride + x;
      const left = x >= size ? bytes[at - size] : 0;
      const up = y > 0 ? bytes[at - stride] : 0;
      const corner = x >= size && y > 0 ? bytes[at - stride - size] : 0;
      bytes[at] = raw[y * (stride + 1) + 1 + x] + predicted(filter, left, up, corner);
    }
  }
  /** @param {number} x @param {number} y */
  const pixel = (x, y) => {
    const at = y * stride + x * size;
    return [bytes[at], bytes[at + 1], bytes[at + 2], size === 4 ? bytes[at + 3] : 255];
  };
  return { width, height, pixel };
}

function predicted(filter, left, up, corner) {
  if (filter === 1) return left;
  if (filter === 2) return up;
  if (filter === 3) return (left + up) >> 1;
  if (filter === 0) return 0;
  const guess = left + up - corner;
  const [toLeft, toUp, toCorner] = [left, up, corner].map((value) => Math.abs(guess - value));
  if (toLeft <= toUp && toLeft <= toCorner) return left;
  return toUp <= toCorner ? up : corner;
}
