/** What `html` and `svg` make; only `render` knows what is in it. */
export interface TemplateResult {
  readonly _$litType$: number;
  readonly strings: TemplateStringsArray;
  readonly values: unknown[];
}
export declare function html(strings: TemplateStringsArray, ...values: unknown[]): TemplateResult;
export declare function svg(strings: TemplateStringsArray, ...values: unknown[]): TemplateResult;
/** Draws nothing: an attribute with it is left out. */
export declare const nothing: unique symbol;
/** Leaves what is there. */
export declare const noChange: unique symbol;
export declare function render(value: unknown, container: HTMLElement | DocumentFragment): unknown;
