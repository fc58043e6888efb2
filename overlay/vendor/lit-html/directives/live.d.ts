/** Compares with what the page holds now, not with what was drawn last. */
export declare function live(value: unknown): unknown;
