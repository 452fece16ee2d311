/** The lists of a loom whose things may stand only with options. */
export const OPTIONAL_LISTS = [
  'points',
  'branches',
  'wires',
  'cables',
  'coverings',
  'fittings',
  'parts',
] as const;

/** All lists of a loom. */
export const LOOM_LISTS = [...OPTIONAL_LISTS, 'asOriginal'] as const;
