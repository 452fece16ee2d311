/**
 * What the markings of terminals say. Numbers are those of DIN 72552 (30 battery, 31 earth, 51 dynamo: de.zxc.wiki,
 * memim.com); letters and words are common practice, no source.
 */
const EARTH = ['31', 'e', 'earth', 'gnd', 'ground', 'masse', 'chassis'];
const BATTERY = ['30', '51', 'b+', 'bat', 'batt', 'battery'];
const COIL = ['85', '86', 'coil', 'w1', 'w2'];
const CONTACTS = ['30', '87', '87a', '87b'];
const ANODE = ['a', 'anode'];
const CATHODE = ['k', 'cathode'];
const PLUS = ['+', 'plus', 'pos', 'positive'];
// The hyphen, the minus sign and the dash.
const MINUS = ['-', '\u2212', '\u2013', 'minus', 'neg', 'negative'];

const among =
  (marks: readonly string[]) =>
  (way: string | undefined): boolean =>
    way !== undefined && marks.includes(way.trim().toLowerCase());

export const isEarthMark = among(EARTH);
export const isBatteryMark = among(BATTERY);
export const isCoilMark = among(COIL);
export const isContactMark = among(CONTACTS);
export const isAnode = among(ANODE);
export const isCathode = among(CATHODE);
export const isPlus = among(PLUS);
export const isMinus = among(MINUS);

/** Whether the name of a stud says that it is an earth. */
export function namesEarth(...names: readonly (string | undefined)[]): boolean {
  return names.some((name) => /(^|[^a-z])(earth|ground|chassis|masse)([^a-z]|$)/i.test(name ?? ''));
}

/** Whether a name speaks of a fuse. */
export function namesFuse(...names: readonly (string | undefined)[]): boolean {
  return names.some((name) => /(^|[^a-z])fuse/i.test(name ?? ''));
}
