// Hands a text to the person at the page as a file to save. Nothing leaves the laptop.

/** @param {string} name @param {string} text */
export function offer(name, text) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text], { type: "application/octet-stream" }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 1_000);
}
