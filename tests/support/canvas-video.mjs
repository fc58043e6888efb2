/**
 * A small video for tests, recorded by the browser itself from a canvas.
 */

/** @param {import('playwright-core').Page} page @returns {Promise<Buffer>} some three seconds of WebM */
export async function recordVideo(page) {
  const base64 = await page.evaluate(async () => {
    const canvas = document.createElement("canvas");
    [canvas.width, canvas.height] = [320, 180];
    const pen = canvas.getContext("2d");
    const recorder = new MediaRecorder(canvas.captureStream(30), { mimeType: "video/webm;codecs=vp8" });
    const parts = [];
    recorder.ondataavailable = ({ data }) => parts.push(data);
    const stopped = new Promise((resolve) => (recorder.onstop = resolve));
    recorder.start(200);
    await new Promise((resolve) => {
      let first;
      const drawPicture = (now) => {
        first ??= now;
        pen.fillStyle = "#1f4a58";
        pen.fillRect(0, 0, 320, 180);
        pen.fillStyle = "#f4f1e8";
        pen.font = "60px sans-serif";
        pen.fillText(((now - first) / 1000).toFixed(1), 100, 110);
        if (now - first > 3200) resolve();
        else requestAnimationFrame(drawPicture);
      };
      requestAnimationFrame(drawPicture);
    });
    recorder.stop();
    await stopped;
    const bytes = new Uint8Array(await new Blob(parts).arrayBuffer());
    return btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(""));
  });
  return Buffer.from(base64, "base64");
}
