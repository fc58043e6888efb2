/**
 * What leaves a streaming program: a video that plays a known time after it was taken, and the
 * graphic beside it. The camera looks at a board that counts the rallies ended, in squares that
 * survive the encoder, and says the time the same way; so every frame tells when it was taken.
 */

/**
 * @param {import('playwright-core').Page} page
 * @param {{ graphic: string, delayMs: number, header: object }} scene `graphic`: its address at the
 *   host; `delayMs`: how late the video plays; `header`: of the match that the board's charter charts
 */
export async function playDelayed(page, scene) {
  // Any plain answer of the host will do: the page is made on it, and of its origin.
  await page.goto(new URL("/openapi.json", scene.graphic).href);
  await page.evaluate(setUp, scene);
}

/** Waits until the video is as late as it should be. @returns {Promise<number>} how late it is, ms */
export const inStep = (page) => page.evaluate(() => globalThis.output.inStep());

/**
 * The board counts one more, and so much later the charter enters it.
 * @returns {Promise<number>} the count
 */
export const endRally = (page, lagMs = 0) => page.evaluate((lag) => globalThis.output.endRally(lag), lagMs);

/**
 * @returns {Promise<{ video: number[], graphic: number[], taken: number[] }>} when each count was first
 *   on the picture and on the graphic, and when it stood on the board: the page's time, ms
 */
export const sightings = (page) => page.evaluate(() => globalThis.output.seen);

/** Runs in the page, so it stands alone. */
async function setUp({ graphic, delayMs, header }) {
  const [WIDE, HIGH, BITS, SIDE] = [320, 180, 16, 20];
  const [TIME_AT, COUNT_AT] = [0, 40];
  const seen = { video: [], graphic: [], taken: [] };
  const until = async (holds) => {
    while (!holds()) await new Promise((resolve) => setTimeout(resolve, 10));
  };
  const canvas = () => Object.assign(document.createElement("canvas"), { width: WIDE, height: HIGH });

  // The camera.
  const board = canvas();
  const pen = board.getContext("2d");
  const squares = (value, y) => {
    for (let bit = 0; bit < BITS; bit += 1) {
      pen.fillStyle = value & (1 << bit) ? "#f4f1e8" : "#10181d";
      pen.fillRect(bit * SIDE, y, SIDE, SIDE);
    }
  };
  const ended = [];
  const film = () => {
    for (const tell of ended.splice(0)) tell(seen.taken.push(performance.now()));
    pen.fillStyle = "#1f4a58";
    pen.fillRect(0, 0, WIDE, HIGH);
    squares(Math.floor(performance.now()) & 0xffff, TIME_AT);
    squares(seen.taken.length, COUNT_AT);
    pen.fillStyle = "#f4f1e8";
    pen.font = "40px sans-serif";
    pen.fillText(`${seen.taken.length}  ${(performance.now() / 1000).toFixed(2)}`, 60, 140);
    requestAnimationFrame(film);
  };
  film();

  // Encoded, and played while it is taken.
  const kind = "video/webm;codecs=vp8";
  const video = Object.assign(document.createElement("video"), { muted: true });
  document.body.replaceChildren(video);
  const source = new MediaSource();
  video.src = URL.createObjectURL(source);
  await new Promise((resolve) => source.addEventListener("sourceopen", resolve, { once: true }));
  const buffer = source.addSourceBuffer(kind);
  const parts = [];
  const append = () => {
    if (!buffer.updating && parts.length > 0) buffer.appendBuffer(parts.shift());
  };
  buffer.onupdateend = append;
  const recorder = new MediaRecorder(board.captureStream(30), { mimeType: kind, videoBitsPerSecond: 2_500_000 });
  let order = Promise.resolve();
  recorder.ondataavailable = ({ data }) => {
    order = order.then(async () => {
      parts.push(await data.arrayBuffer());
      append();
    });
  };
  recorder.start(50);

  // What the picture shows, read from its frames.
  const sight = canvas().getContext("2d", { willReadFrequently: true });
  const read = (pixels, y) => {
    const isLight = (bit) => pixels[((y + SIDE / 2) * WIDE + bit * SIDE + SIDE / 2) * 4] > 128;
    return Array.from({ length: BITS }, (_, bit) => (isLight(bit) ? 1 << bit : 0)).reduce((sum, one) => sum + one);
  };
  let late = [];
  const look = (_, { expectedDisplayTime }) => {
    sight.drawImage(video, 0, 0);
    const { data } = sight.getImageData(0, 0, WIDE, HIGH);
    late.push((Math.floor(expectedDisplayTime) - read(data, TIME_AT)) & 0xffff);
    for (let count = seen.video.length; count < read(data, COUNT_AT); count += 1) seen.video.push(expectedDisplayTime);
    video.requestVideoFrameCallback(look);
  };
  video.requestVideoFrameCallback(look);
  const inStep = async () => {
    for (;;) {
      late = [];
      await until(() => late.length >= 15);
      const middle = late.sort((one, other) => one - other)[7];
      if (Math.abs(middle - delayMs) < 5) return middle;
      video.currentTime += (middle - delayMs) / 1000;
    }
  };
  await until(() => video.buffered.length > 0 && video.buffered.end(0) > delayMs / 1000 + 0.5);
  video.currentTime = video.buffered.end(0) - delayMs / 1000;
  await video.play();

  // The charter at the board.
  const socket = new WebSocket(new URL("/courts/1/intake", location.href).href.replace("http", "ws"));
  await new Promise((resolve) => (socket.onopen = resolve));
  const welcomed = new Promise((resolve) => (socket.onmessage = resolve));
  socket.send(JSON.stringify({ type: "hello", client: "board", chart: header }));
  await welcomed;
  const enter = (count) =>
    socket.send(
      JSON.stringify({
        type: "entries",
        entries: [{ id: `e${count}`, at: new Date().toISOString(), kind: "rally_end", won_by: "a" }],
      }),
    );
  const endRally = (lagMs) =>
    new Promise((resolve) =>
      ended.push((count) => {
        if (lagMs === 0) enter(count);
        else setTimeout(() => enter(count), lagMs);
        resolve(count);
      }),
    );

  // The graphic, and the frame in which its points change.
  const frame = Object.assign(document.createElement("iframe"), { src: graphic, width: 960, height: 540 });
  document.body.append(frame);
  const points = () =>
    frame.contentDocument?.querySelector('rt-score-plate [data-team="a"] .rt-points')?.textContent ?? "";
  await until(() => points() === "0");
  const note = () =>
    frame.contentWindow.requestAnimationFrame(() => {
      // The frame with the change is on the screen when the next one begins, as a video's frame is.
      for (let count = seen.graphic.length; count < Number(points()); count += 1) seen.graphic.push(performance.now());
    });
  new MutationObserver(note).observe(frame.contentDocument.querySelector("rt-score-plate"), {
    subtree: true,
    childList: true,
    characterData: true,
  });
  globalThis.output = { inStep, endRally, seen };
}
