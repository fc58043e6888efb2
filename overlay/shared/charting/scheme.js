// What a charter can say with a key, and the key each has as the page comes: right hand for
// the shots, every stroke a key of its own. Keys are named by `KeyboardEvent.code`, so that
// every layout has them in the same place. Other arrangements: presets.js. Pure.

/**
 * @typedef {{ action: string, group: string, words: string, code: string }} Key
 * An action is a verb and what it is about: `stroke:dink`, `cue:awkward`, `end:out`.
 */

/** @type {readonly Key[]} reasons for the places: README.md */
export const SCHEME = [
  { action: "next", group: "shots", words: "auto: serve · return · volley", code: "Space" },
  { action: "stroke:dink", group: "shots", words: "dink", code: "KeyJ" },
  { action: "stroke:drop", group: "shots", words: "drop", code: "KeyK" },
  { action: "stroke:block", group: "shots", words: "block", code: "KeyL" },
  { action: "stroke:drive", group: "shots", words: "drive", code: "Semicolon" },
  { action: "stroke:dink:air", group: "shots", words: "dink, air", code: "KeyU" },
  { action: "stroke:reset:air", group: "shots", words: "reset, air", code: "KeyI" },
  { action: "stroke:speedup:bounce", group: "shots", words: "speedup", code: "KeyO" },
  { action: "stroke:overhead", group: "shots", words: "overhead", code: "KeyP" },
  { action: "stroke:dink:half_volley", group: "shots", words: "dink, half volley", code: "KeyM" },
  { action: "stroke:reset:half_volley", group: "shots", words: "reset, half volley", code: "Comma" },
  { action: "stroke:speedup:air", group: "shots", words: "speedup, air", code: "Period" },
  { action: "stroke:volley", group: "shots", words: "volley", code: "Quote" },
  { action: "stroke:lob:bounce", group: "shots", words: "lob", code: "Slash" },
  { action: "stroke:erne", group: "shots", words: "erne", code: "KeyH" },
  { action: "stroke:atp", group: "shots", words: "around the post", code: "KeyY" },
  { action: "stroke:other", group: "shots", words: "other", code: "KeyN" },
  { action: "cue:attackable", group: "cues", words: "high ball", code: "KeyF" },
  { action: "cue:off_balance", group: "cues", words: "off balance", code: "KeyD" },
  { action: "cue:awkward", group: "cues", words: "awkward", code: "KeyS" },
  { action: "cue:net_cord", group: "cues", words: "net cord", code: "KeyA" },
  { action: "before", group: "cues", words: "cue of ball before", code: "KeyV" },
  { action: "missed", group: "cues", words: "missed a shot (same side)", code: "KeyG" },
  { action: "player", group: "cues", words: "name player", code: "KeyT" },
  { action: "gap", group: "cues", words: "I looked away", code: "KeyC" },
  { action: "contact:half_volley", group: "cues", words: "half volley", code: "KeyR" },
  { action: "contact:air", group: "cues", words: "in the air", code: "KeyE" },
  { action: "contact:bounce", group: "cues", words: "bounce", code: "KeyW" },
  { action: "depth:a", group: "cues", words: "where {a} stands", code: "KeyQ" },
  { action: "depth:b", group: "cues", words: "where {b} stands", code: "KeyZ" },
  { action: "end:winner", group: "ends", words: "winner", code: "Digit1" },
  { action: "end:out", group: "ends", words: "out", code: "Digit2" },
  { action: "end:net", group: "ends", words: "net", code: "Digit3" },
  { action: "end:fault", group: "ends", words: "fault", code: "Digit4" },
  { action: "end:ace", group: "ends", words: "ace", code: "Backquote" },
  { action: "replay", group: "ends", words: "replay", code: "Digit5" },
  { action: "time_out", group: "ends", words: "time-out", code: "Digit6" },
  { action: "confirm", group: "ends", words: "whoever hit last", code: "Enter" },
  { action: "team:a", group: "ends", words: "{a}", code: "ArrowLeft" },
  { action: "team:b", group: "ends", words: "{b}", code: "ArrowRight" },
  { action: "undo", group: "fixing", words: "undo", code: "Backspace" },
  { action: "redo", group: "fixing", words: "redo", code: "Backslash" },
  { action: "older", group: "fixing", words: "previous entry", code: "ArrowUp" },
  { action: "newer", group: "fixing", words: "next entry", code: "ArrowDown" },
  { action: "remove", group: "fixing", words: "remove", code: "Delete" },
  { action: "insert", group: "fixing", words: "insert after", code: "KeyX" },
  { action: "cancel", group: "fixing", words: "cancel", code: "Escape" },
  { action: "detail", group: "fixing", words: "charting level", code: "Digit0" },
  { action: "score", group: "fixing", words: "set the score", code: "Digit9" },
  { action: "help", group: "fixing", words: "help with keys", code: "F1" },
  { action: "film:play", group: "film", words: "play · pause", code: "KeyB" },
  { action: "film:back", group: "film", words: "1 s back", code: "BracketLeft" },
  { action: "film:on", group: "film", words: "1 s forward", code: "BracketRight" },
  { action: "film:far_back", group: "film", words: "5 s back", code: "Minus" },
  { action: "film:far_on", group: "film", words: "5 s forward", code: "Equal" },
  { action: "film:frame_back", group: "film", words: "frame back", code: "PageUp" },
  { action: "film:frame_on", group: "film", words: "frame forward", code: "PageDown" },
  { action: "film:slower", group: "film", words: "slower", code: "Digit7" },
  { action: "film:faster", group: "film", words: "faster", code: "Digit8" },
];

/** Said in fewer strokes only (presets.js). @type {Key} */
export const RESET = { action: "stroke:reset", group: "shots", words: "reset", code: "KeyL" };
