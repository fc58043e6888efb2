export declare function repeat<T>(
  items: Iterable<T>,
  key: (item: T, place: number) => unknown,
  template: (item: T, place: number) => unknown,
): unknown;
