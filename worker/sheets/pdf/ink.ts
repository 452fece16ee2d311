import PDFDocument from 'pdfkit';

/** The fonts that a PDF carries with it: TrueType files. */
export interface Fonts {
  regular: Uint8Array;
  bold: Uint8Array;
}
export type Face = keyof Fonts;

/** Points in a millimetre. */
export const PT = 72 / 25.4;

/** What stands for a character that the fonts do not have. */
const UNKNOWN = '□';

/** What pdfkit has of an embedded font, which its types leave out. */
interface Embedded {
  id: string;
  ref(): unknown;
  encode(text: string): [hex: string[], positions: { advanceWidth: number }[]];
}

interface Glyph {
  hex: string;
  /** Thousandths of the font's size. */
  width: number;
}

export interface Sized {
  face: Face;
  size: number;
}

/** A PDF that is being written: places in points of 1/72 inch, from the upper left corner of the page. */
export interface Ink {
  widthOf(words: string, font: Sized): number;
  newPage(size: PageSize): void;
  /** How many pages there are so far. */
  pages(): number;
  /** Words on a line whose foot is at `y`. */
  words(words: string, x: number, y: number, font: Sized): void;
  /** The number of pages, which is known at the end. */
  pageCount(x: number, y: number, font: Sized): void;
  box(x: number, y: number, width: number, height: number, look: { line?: number; dark?: number }): void;
  line(points: readonly (readonly [number, number])[], width: number, dashed?: boolean): void;
  dot(x: number, y: number, radius: number, dark: number): void;
  /** Ends it. The bytes are the same for the same writing. */
  end(): Promise<Uint8Array<ArrayBuffer>>;
}

interface About {
  title: string;
  /** The day of the quote; a PDF says when it was made. */
  asOf: string;
}

export interface PageSize {
  widthPt: number;
  heightPt: number;
}

/**
 * Starts a PDF. Each page is written out once it is full, so that its size does not matter. Letters are set one by one,
 * without kerning and ligatures: what is read back out is what was put in.
 */
export function inkOf({ title, asOf }: About, fonts: Fonts): Ink {
  const day = new Date(`${asOf}T00:00:00Z`);
  const doc = new PDFDocument({
    autoFirstPage: false,
    margin: 0,
    lang: 'en',
    info: { Title: title, Creator: 'Loomwright', Producer: 'Loomwright', CreationDate: day, ModDate: day },
  });
  const chunks: Uint8Array[] = [];
  doc.on('data', (chunk: Uint8Array) => chunks.push(chunk));
  const done = new Promise<Uint8Array<ArrayBuffer>>((resolve, reject) => {
    doc.on('end', () => resolve(new Uint8Array(Buffer.concat(chunks))));
    doc.on('error', reject);
  });
  const faces = { regular: faceOf(doc, fonts.regular, 'regular'), bold: faceOf(doc, fonts.bold, 'bold') };
  const counter = doc.ref({
    Type: 'XObject',
    Subtype: 'Form',
    BBox: [0, -5, 60, 20],
    Resources: { Font: { [faces.regular.font.id]: faces.regular.font.ref() } },
  });
  let pages = 0;
  let counterSize = 8;

  const write = (content: string) => doc.addContent(content);
  const upright = (x: number, y: number) => `1 0 0 -1 ${at(x)} ${at(y)}`;

  return {
    widthOf: (words, { face, size }) => (faces[face].widthOf(words) * size) / 1000,
    newPage: ({ widthPt, heightPt }) => {
      // A page that has ended is not gone back to: pdfkit writes it out.
      doc.addPage({ size: [widthPt, heightPt], margin: 0 });
      pages++;
    },
    pages: () => pages,
    words: (words, x, y, { face, size }) => {
      if (words === '') return;
      const { font, hexOf } = faces[face];
      (doc.page as unknown as { fonts: Record<string, unknown> }).fonts[font.id] ??= font.ref();
      write(`BT /${font.id} ${size} Tf ${upright(x, y)} Tm <${hexOf(words)}> Tj ET`);
    },
    pageCount: (x, y, { size }) => {
      counterSize = size;
      (doc.page as unknown as { xobjects: Record<string, unknown> }).xobjects['Count'] = counter;
      write(`q ${upright(x, y)} cm /Count Do Q`);
    },
    box: (x, y, width, height, { line = 0, dark }) => {
      const shape = `${at(x)} ${at(y)} ${at(width)} ${at(height)} re`;
      if (dark !== undefined) write(`${shade(dark)} g ${shape} f 0 g`);
      if (line > 0) write(`${line} w ${shape} S`);
    },
    line: (points, width, dashed = false) => {
      const path = points.map(([x, y], index) => `${at(x)} ${at(y)} ${index === 0 ? 'm' : 'l'}`);
      write(`${width} w ${dashed ? '[4 3] 0 d ' : ''}${path.join(' ')} S${dashed ? ' [] 0 d' : ''}`);
    },
    dot: (x, y, radius, dark) => {
      doc
        .lineWidth(0.8)
        .circle(x, y, radius)
        .fillAndStroke(
          `#${Math.round((1 - dark) * 255)
            .toString(16)
            .padStart(2, '0')
            .repeat(3)}`,
          '#000',
        );
      write('0 g');
    },
    end: () => {
      const { font, hexOf } = faces.regular;
      counter.end(`BT /${font.id} ${counterSize} Tf 1 0 0 1 0 0 Tm <${hexOf(`${pages}`)}> Tj ET`);
      doc.end();
      return done;
    },
  };
}

const at = (place: number) => Math.round(place * 100) / 100;
const shade = (dark: number) => at(1 - dark);

function faceOf(doc: PDFKit.PDFDocument, file: Uint8Array, name: string) {
  doc.registerFont(name, file);
  const font = (doc.font(name) as unknown as { _font: Embedded })._font;
  const glyphs = new Map<string, Glyph>();

  function glyphOf(character: string): Glyph {
    const known = glyphs.get(character);
    if (known) return known;
    const [[hex = '0000'], [position]] = font.encode(character);
    const lacks = hex === '0000' && character !== UNKNOWN;
    const glyph = lacks ? glyphOf(UNKNOWN) : { hex, width: position?.advanceWidth ?? 0 };
    glyphs.set(character, glyph);
    return glyph;
  }

  const all = (words: string) => Array.from(words.normalize('NFC'), glyphOf);
  return {
    font,
    widthOf: (words: string) => all(words).reduce((sum, { width }) => sum + width, 0),
    hexOf: (words: string) =>
      all(words)
        .map(({ hex }) => hex)
        .join(''),
  };
}
