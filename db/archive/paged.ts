/** Rows read at once; revisions, quotes and orders, which are large, are read one by one. */
export const PAGE = 200;

/** All rows, a page at a time: `read` gives those after the last one, or the first ones. */
export async function* paged<Row>(read: (after: Row | undefined) => PromiseLike<Row[]>): AsyncGenerator<Row> {
  let page: Row[];
  let last: Row | undefined;
  do {
    page = await read(last);
    yield* page;
    last = page.at(-1);
  } while (page.length === PAGE);
}
