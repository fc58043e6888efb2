// Cautions that stand wherever a court's links are handed out.

/** Courtside and at home alike: what a cable does. */
export const CABLE_CAUTION =
  "Keep the laptop, its stand and cables out of the players' way and at a safe distance; tape cables down.";
/** Wherever the graphic's link is handed out. */
export const FLASH_CAUTION =
  "The graphic does not flash, and its motion can be switched off in the room Graphic; keep it that way in styles of your own, flashing light can harm viewers.";
