export * from './catalogue.ts';
export * from './clubs.ts';
export * from './looms.ts';
export * from './prices.ts';
export * from './quotes.ts';
export * from './terms.ts';
export * from './search.ts';
export * from './shelf.ts';
