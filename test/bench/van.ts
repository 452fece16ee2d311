import { fileURLToPath } from 'node:url';
import { printedApart } from './apart.ts';
import type { VanRow } from './vanRow.ts';

const PROGRAM = fileURLToPath(new URL('vanOne.ts', import.meta.url));
const BESIDE_SECONDS = 10;

/** The van, each time in a process of its own: its quote alone, then with what lies beside it. What failed is undefined. */
export interface Van {
  quote: VanRow | undefined;
  beside: VanRow | undefined;
}

/** Prices the van’s example within so many seconds, without and with what lies beside it, and prints both. */
export async function benchVan(seconds: number): Promise<Van> {
  const [quote, beside] = [await priced(0, seconds), await priced(BESIDE_SECONDS, seconds)];
  console.log('The van, from the job to the result: its quote alone, and with what lies beside it');
  console.table(
    [quote, beside].map((row) =>
      row === undefined
        ? {}
        : {
            'beside, s at most': row.besideSeconds,
            'CPU, s': row.cpuSeconds.toFixed(2),
            'wall, s': row.wallSeconds.toFixed(2),
            proven: row.proven ? 'yes' : 'no',
            'gap, %': row.gapPercent.toFixed(4),
            'peak RSS, MB': row.peakRssMb,
          },
    ),
  );
  if (beside) {
    console.log('What lies beside the van’s quote');
    console.table(
      beside.beside.map(({ part, rows, proven, left }) => ({
        part,
        rows,
        proven,
        'not worked to the end': left,
      })),
    );
    console.log(
      `Of ${beside.losing} losing offers, ${beside.fallsKnown} have a fall above 0 % and below 100 %.`,
    );
  }
  return { quote, beside };
}

async function priced(besideSeconds: number, seconds: number): Promise<VanRow | undefined> {
  const args = [`${besideSeconds}`, `${seconds}`];
  const end = await printedApart(PROGRAM, args, seconds + besideSeconds);
  if ('printed' in end) return JSON.parse(end.printed) as VanRow;
  console.error(`van, ${besideSeconds} s beside: ${end.failed}`);
  return undefined;
}
