import { sharesOf } from '../sourcing/problem/pricing.ts';
import type { Choice, Cover, Demand, Problem } from '../sourcing/problem/problem.ts';

/** A line's requirement to be bought from the other suppliers of the mix, all else as it is: a small problem. */
export interface Moved {
  problem: Problem;
  /** By the small problem's choices: their place in the whole; undefined of what stays as it is. */
  places: readonly (number | undefined)[];
  /** The same of its demands. */
  demands: readonly (number | undefined)[];
  /** Units of the whole problem's choices that stay. */
  kept: readonly number[];
}

/** What moves freely, what stays in which units, and the covers and demands that this is about, of the whole problem. */
interface Parts {
  free: readonly number[];
  kept: readonly number[];
  covers: readonly Cover[];
  demands: readonly number[];
}

/** The problem of what moves: all that stays with a supplier in an order is one choice that must be bought. */
export function smallProblem(problem: Problem, { free, kept, covers, demands }: Parts): Moved {
  const shares = sharesOf(problem, { units: kept });
  const staying = shares.map(({ supplier }) => supplier);
  const suppliers = [...new Set([...staying, ...free.map((at) => problem.choices[at]?.supplier ?? 0)])].sort(
    (a, b) => a - b,
  );
  const demandAt = new Map(demands.map((demand, at) => [demand, staying.length + at]));
  const choiceAt = new Map(free.map((choice, at) => [choice, staying.length + at]));
  const givenBy = (supplier: number, eachOf: (choice: number) => number) =>
    problem.choices.reduce(
      (sum, choice, at) => sum + (choice.supplier === supplier ? (kept[at] ?? 0) * eachOf(at) : 0),
      0,
    );
  const eachTo = (demand: number) => (choice: number) =>
    problem.choices[choice]?.serves.find((served) => served.demand === demand)?.each ?? 0;
  const stays = shares.map(({ supplier, goods, micrograms }, at): Choice => ({
    offer: '',
    supplier: suppliers.indexOf(supplier),
    wave: problem.suppliers[supplier]?.wave ?? 0,
    form: 'pack',
    serves: [
      { demand: at, each: 1 },
      ...demands.flatMap((demand) => {
        const each = problem.demands[demand]?.how === 'sum' ? givenBy(supplier, eachTo(demand)) : 0;
        return each > 0 ? [{ demand: demandAt.get(demand) ?? 0, each }] : [];
      }),
    ],
    tiers: [{ fromUnits: 1, price: goods }],
    step: 1,
    mostUnits: 1,
    microgramsPerUnit: micrograms,
    piecesPerUnit: 1,
  }));
  const moving = free.flatMap((at): Choice[] => {
    const choice = problem.choices[at];
    if (!choice) return [];
    const serves = choice.serves.flatMap(({ demand, each }) => {
      const place = demandAt.get(demand);
      return place === undefined ? [] : [{ demand: place, each }];
    });
    return [{ ...choice, serves, supplier: suppliers.indexOf(choice.supplier) }];
  });
  const choices = [...stays, ...moving];
  const mustStay = stays.map((_, at): Demand => ({ ...STAYS, choices: [at] }));
  return {
    kept,
    places: [...stays.map(() => undefined), ...free],
    demands: [...stays.map(() => undefined), ...demands],
    problem: {
      scale: problem.scale,
      choices,
      suppliers: suppliers.flatMap((at) => problem.suppliers[at] ?? []),
      demands: [
        ...mustStay,
        ...demands.flatMap((at): Demand[] => {
          const demand = problem.demands[at];
          const place = demandAt.get(at);
          if (!demand) return [];
          const own = choices.flatMap(({ serves }, choice) =>
            serves.some((served) => served.demand === place) ? [choice] : [],
          );
          return [renumbered(demand, own, choiceAt)];
        }),
      ],
      covers: [
        ...mustStay.map((_, at) => ({
          members: [{ demand: at, need: 1, when: undefined }],
          gives: [{ choice: at, each: 1 }],
        })),
        ...covers.map(({ members, gives }): Cover => {
          const eachOf = (choice: number) => gives.find((give) => give.choice === choice)?.each ?? 0;
          return {
            members: members.map(({ demand, need }) => ({
              demand: demandAt.get(demand) ?? 0,
              need,
              when: undefined,
            })),
            gives: [
              ...staying.map((supplier, choice) => ({ choice, each: givenBy(supplier, eachOf) })),
              ...gives.flatMap(({ choice, each }) => {
                const place = choiceAt.get(choice);
                return place === undefined ? [] : [{ choice: place, each }];
              }),
            ].filter(({ each }) => each > 0),
          };
        }),
      ],
      // Only ties look at these.
      pools: [],
      groups: [],
      sharedStock: problem.sharedStock.flatMap(({ choices: sharing, mostUnits }) => {
        const own = sharing.flatMap((choice) => choiceAt.get(choice) ?? []);
        const taken = sharing.reduce((sum, choice) => sum + (kept[choice] ?? 0), 0);
        return own.length === 0 ? [] : [{ choices: own, mostUnits: mostUnits - taken }];
      }),
      atMostSuppliers: undefined,
      insistOn: [],
    },
  };
}

const STAYS: Omit<Demand, 'choices'> = {
  requirement: '',
  need: 1,
  how: 'sum',
  pieces: [],
  oneSupplier: false,
  when: undefined,
  patterns: undefined,
  ways: [],
};

function renumbered(
  demand: Demand,
  choices: readonly number[],
  placeOf: ReadonlyMap<number, number>,
): Demand {
  return {
    ...demand,
    when: undefined,
    choices,
    patterns:
      demand.patterns &&
      new Map(
        [...demand.patterns].flatMap(([choice, patterns]) => {
          const place = placeOf.get(choice);
          return place === undefined ? [] : [[place, patterns] as const];
        }),
      ),
    ways: demand.ways.flatMap(({ units, cuts }) => {
      const place = (choice: number) => placeOf.get(choice) ?? -1;
      return units.every(({ choice }) => placeOf.has(choice))
        ? [
            {
              units: units.map((line) => ({ ...line, choice: place(line.choice) })),
              cuts: cuts.map((cut) => ({ ...cut, choice: place(cut.choice) })),
            },
          ]
        : [];
    }),
  };
}
