/** Whether the long form of a test was asked for: `npm test -- --long`, `npm run measure -- --long`. */
export const LONG = process.env['LOOMWRIGHT_LONG'] === '1';
