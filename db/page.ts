/** A page of a list: the items, and where the next page starts, or null at the end. */
export interface Page<T> {
  items: T[];
  next: string | null;
}

export interface PageInput {
  limit: number;
  /** Where the page before ended: the last item's name, and in a list that is sorted otherwise what it was sorted by. */
  after?: string | undefined;
}

/** A page, the name of what it is sorted by, and what its entries have in common, by the names of the kind's filters. */
export type ListInput = PageInput & {
  sort?: string | undefined;
  filters?: Readonly<Record<string, string | undefined>> | undefined;
};

/** Cuts a page out of rows that were read one beyond the limit. */
export function pageOf<Row, T>(
  rows: Row[],
  limit: number,
  nameOf: (row: Row) => string,
  present: (row: Row) => T,
): Page<T> {
  const page = rows.slice(0, limit);
  const last = page.at(-1);
  return { items: page.map(present), next: rows.length > limit && last !== undefined ? nameOf(last) : null };
}
