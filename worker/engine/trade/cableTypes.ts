/** Which table a cable type is looked up in. Tables are never mixed: a standard's figures hold for its own cable. */
export type CableTable =
  'thinWall' | 'thickWall' | 'trade' | 'old' | 'sae' | 'class5' | 'class5Tinned' | 'boat';

/** The users' words and the standards' letters, in small letters with dashes. */
const WORDS: readonly (readonly [RegExp, CableTable])[] = [
  [/(^|-)(boat|marine)(-|$)/, 'boat'],
  [/^(thin-?wall|flr(y|yw|2x)(-?[ab])?)$/, 'thinWall'],
  [/^(thick-?wall|flyw?)$/, 'thickWall'],
  [/^(pvc|pvc-vehicle|vehicle-pvc)$/, 'trade'],
  [/^(cotton|rubber|vir|lacquered)(-|$)/, 'old'],
  [/^(gpt|gxl|txl|twp|sxl)$/, 'sae'],
  [/^class-?5$/, 'class5'],
  [/^class-?5-tinned$/, 'class5Tinned'],
];

/** A cable type in small letters with dashes: "FLRY_B" is "flry-b". */
export function cableWord(cableType: string): string {
  return cableType.toLowerCase().replaceAll(/[._]/g, '-');
}

/** Undefined of a type that no table knows: nothing is assumed of it, not even that it is copper. */
export function tableOf(cableType: string): CableTable | undefined {
  const word = cableWord(cableType);
  return WORDS.find(([words]) => words.test(word))?.[1];
}
