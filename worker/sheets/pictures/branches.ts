import { about, PICTURE_WIDTH, type Picture, type Shape } from './picture.ts';
import { forestOf, type Edge, type Tree, type Twig } from './tree.ts';

const ROW = 22;
const TOP = 16;
const SIZE = 7.5;
const LEFT = 4;
/** White between words that follow each other in a row. */
const APART = 8;
const ROWS_ON_A_PICTURE = 24;
/** Words of a point or branch are shortened to so many characters: in the tables beside the picture they stand whole. */
const LONGEST = 30;

/** A drawing of a loom's branches: pictures that follow each other, and what could not be drawn. */
export interface BranchPictures {
  pictures: readonly Picture[];
  /** false: words take so much room that most branches would be drawn too long; then none is to scale. */
  toScale: boolean;
  /** Branches that are drawn longer than to scale, so that their words fit. */
  stretched: readonly string[];
  /** Branches that close a ring, which are not drawn. */
  rings: readonly string[];
}

/**
 * A loom's branches as a plain tree, to scale where it fits: lengths run from left to right. Each branch says its name and mm
 * over its line, each point its name under it.
 */
export function branchPictures(loom: string, edges: readonly Edge[]): BranchPictures {
  const { trees, rings } = forestOf(edges);
  const drawn = trees.map((tree) => drawTree(loom, tree));
  return {
    pictures: drawn.flatMap(({ pictures }) => pictures),
    toScale: drawn.every(({ toScale }) => toScale),
    stretched: drawn.flatMap(({ stretched }) => stretched),
    rings: rings.map(({ branch }) => branch),
  };
}

function drawTree(loom: string, tree: Tree): { pictures: Picture[]; toScale: boolean; stretched: string[] } {
  const fits = (scale: number) => widthAt(tree, scale) <= PICTURE_WIDTH;
  let [low, high] = [0, PICTURE_WIDTH];
  for (let step = 0; step < 50; step++) {
    const middle = (low + high) / 2;
    if (fits(middle)) low = middle;
    else high = middle;
  }
  const places = placesAt(tree, low);
  // Where not even words alone fit, all is drawn narrower by the printer.
  const width = Math.max(PICTURE_WIDTH, widthAt(tree, low));
  const tooShort = tree.twigs.filter((twig) => least(twig) > twig.edge.lengthMm * low + 0.01);
  const toScale = tooShort.length <= tree.twigs.length / 2;
  const stretched = toScale ? tooShort : [];
  const pictures: Picture[] = [];
  for (let from = 0; from < tree.rows; from += ROWS_ON_A_PICTURE) {
    const to = Math.min(tree.rows, from + ROWS_ON_A_PICTURE);
    pictures.push({
      title: `Branches of ${loom}`,
      width,
      height: TOP + (to - from) * ROW,
      shapes: [
        ...(from === 0 ? [dot(LEFT, 0), words(tree.root, LEFT + 3, pointY(0), true)] : []),
        ...tree.twigs.flatMap((twig) => twigShapes(twig, places, stretched.includes(twig), { from, to })),
      ],
    });
  }
  return { pictures, toScale, stretched: stretched.map(({ edge }) => edge.branch) };
}

/** The least width of a branch whose words may reach beyond its end, since nothing follows it in its row. */
const LEAST_LAST = 12;

/** The least width of a branch: of its words, and of those of its inner point where that lies in the same row. */
function least({ edge, inner, row, innerRow, isLast }: Twig): number {
  if (isLast) return row === innerRow ? Math.max(LEAST_LAST, about(short(inner), SIZE) + APART) : LEAST_LAST;
  const point = row === innerRow ? about(short(inner), SIZE) : 0;
  return Math.max(about(branchWords(edge), SIZE), point) + APART;
}

const short = (name: string) => (name.length <= LONGEST ? name : `${name.slice(0, LONGEST - 1)}…`);

const branchWords = ({ branch, lengthMm }: Edge) => `${short(branch)} ${lengthMm}`;

type Places = ReadonlyMap<string, number>;

function placesAt({ root, twigs }: Tree, scale: number): Places {
  const places = new Map([[root, LEFT]]);
  for (const twig of twigs) {
    const start = places.get(twig.inner) ?? LEFT;
    places.set(twig.outer, start + Math.max(twig.edge.lengthMm * scale, least(twig)));
  }
  return places;
}

function widthAt(tree: Tree, scale: number): number {
  const places = placesAt(tree, scale);
  return tree.twigs.reduce((most, { edge, inner, outer, isLast }) => {
    const beyond = isLast ? (places.get(inner) ?? 0) + about(branchWords(edge), SIZE) + 6 : 0;
    return Math.max(most, beyond, (places.get(outer) ?? 0) + about(short(outer), SIZE) + 5);
  }, 0);
}

const rowY = (row: number) => TOP + row * ROW;
const pointY = (row: number) => rowY(row) + 9.5;

function twigShapes(
  { edge, inner, outer, row, innerRow }: Twig,
  places: Places,
  isStretched: boolean,
  { from, to }: { from: number; to: number },
): Shape[] {
  if (row < from || innerRow >= to) return [];
  const [start = LEFT, end = LEFT] = [places.get(inner), places.get(outer)];
  const top = rowY(Math.max(innerRow - from, 0)) - (innerRow < from ? TOP : 0);
  const down = (bottom: number): Shape[] =>
    row === innerRow
      ? []
      : [
          {
            is: 'line',
            points: [
              [start, top],
              [start, bottom],
            ],
            line: 0.8,
          },
        ];
  // A leg that begins in a later picture only passes through this one.
  if (row >= to) return down(rowY(to - from) - 4);
  const y = rowY(row - from);
  return [
    ...down(y),
    {
      is: 'line',
      points: [
        [start, y],
        [end, y],
      ],
      line: 1.4,
      ...(isStretched ? { dashed: true } : {}),
    },
    dot(end, row - from),
    words(branchWords(edge), start + 4, y - 3, false),
    words(outer, end + 3, pointY(row - from), true),
  ];
}

function dot(x: number, row: number): Shape {
  return { is: 'dot', x, y: rowY(row), radius: 2.2, dark: 1 };
}

function words(said: string, x: number, y: number, bold: boolean): Shape {
  return { is: 'words', x, y, words: short(said), size: SIZE, anchor: 'start', bold };
}
