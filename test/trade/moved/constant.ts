/** A constant of the trade, marked in the text that stands around it once in its file: "«58»" in "CONDUCTIVITY = «58»". */
export interface Constant {
  /** Below worker/engine. */
  readonly file: string;
  readonly text: string;
  /** What stands in place of one that is no number; such a one is moved one way only. */
  readonly instead?: string;
  /** Why only one of the two ways is noticed, where that is so. */
  readonly oneWay?: string;
}

const MARKED = /^([^«]*)«([^»]+)»([^]*)$/;

/** The source with the constant times a factor. Throws where the text does not stand in it just once. */
export function withMoved(source: string, { file, text, instead }: Constant, factor: number): string {
  const [, before, constant, after] = MARKED.exec(text) ?? [];
  if (before === undefined || constant === undefined || after === undefined)
    throw new Error(`${file}: nothing is marked in ${text}`);
  const parts = source.split(before + constant + after);
  if (parts.length !== 2) throw new Error(`${file}: ${text} stands in it ${parts.length - 1} times`);
  return parts.join(before + (instead ?? `(${constant} * ${factor})`) + after);
}

/** Constants of one file. */
export const inFile = (file: string, ...texts: (string | Omit<Constant, 'file'>)[]): Constant[] =>
  texts.map((text) => (typeof text === 'string' ? { file, text } : { file, ...text }));
