import type { BuildOrBuy, Combination } from '../../worker/engine/model/buildOrBuy.ts';
import { gbp } from './sample.ts';

/** What building or buying one combination comes to; what is given replaces an empty one. */
export function combination(
  given: Partial<Combination> & Pick<Combination, 'built' | 'bought' | 'minutes'>,
  [cost, labour, total]: readonly [string, string, string],
): Combination {
  return {
    state: 'proven',
    delivered: gbp(cost),
    tools: [],
    cost: gbp(cost),
    labour: gbp(labour),
    total: gbp(total),
    bound: gbp(total),
    ...given,
  };
}

const made = (part: string, ...looms: string[]) => ({ part, looms, quantity: 1 });

/** One loom: built it costs 253.00 and 33 hours, bought 435.40 and 2 hours; an hour is worth 12.00. */
export function oneLoom(given: Partial<BuildOrBuy> = {}): BuildOrBuy {
  return {
    order: 'build',
    hourWorth: gbp('12.00'),
    labour: [
      {
        loom: 'l',
        quantity: 1,
        minutes: 1980,
        minutesIfBought: 120,
        operations: [
          {
            operation: 'crimping',
            label: 'crimping',
            count: 93,
            unit: 'terminal',
            minutesEach: 21.25,
            minutes: 1976.25,
            byDefault: true,
          },
          {
            operation: 'tape',
            label: 'winding tape',
            count: 2.5,
            unit: 'metre',
            minutesEach: 1.5,
            minutes: 3.75,
          },
        ],
      },
    ],
    madeUp: [{ part: 'made-l', label: 'Test loom, made up', looms: ['l'], quantity: 1 }],
    combinations: [
      combination({ built: ['l'], bought: [], minutes: 1980, leadDays: 9 }, ['253.00', '396.00', '649.00']),
      combination({ built: [], bought: [made('made-l', 'l')], minutes: 120, leadDays: 21 }, [
        '435.40',
        '24.00',
        '459.40',
      ]),
    ],
    best: 1,
    allBuilt: 0,
    allBought: 1,
    proven: true,
    bound: gbp('459.40'),
    againstAllBought: { saving: gbp('182.40'), minutes: 1860, hourWorth: gbp('5.88') },
    leftOut: ['what you learn'],
    ...given,
  };
}

/** The same with an hour's worth of 0. */
export function atNothing(given: Partial<BuildOrBuy> = {}): BuildOrBuy {
  const known = oneLoom();
  return {
    ...known,
    hourWorth: gbp('0.00'),
    combinations: known.combinations.map((one) => ({ ...one, labour: gbp('0.00'), total: one.cost })),
    best: 0,
    bound: gbp('253.00'),
    ...given,
  };
}

/** Two looms of which the rear is cheapest bought and the main built. */
export function twoLooms(): BuildOrBuy {
  const labour = (loom: string, minutes: number) => ({
    loom,
    quantity: 1,
    minutes,
    minutesIfBought: 60,
    operations: [],
  });
  return {
    order: 'cheapest',
    hourWorth: gbp('10.00'),
    labour: [labour('main', 600), labour('rear', 360)],
    madeUp: [
      { part: 'made-main', label: 'Main', looms: ['main'], quantity: 1 },
      { part: 'made-rear', label: 'Rear', looms: ['rear'], quantity: 1 },
      {
        part: 'made-set',
        label: 'Set',
        looms: ['main', 'rear'],
        quantity: 1,
        why: 'no offer of it can be used',
      },
    ],
    combinations: [
      combination({ built: ['main', 'rear'], bought: [], minutes: 960 }, ['200.00', '160.00', '360.00']),
      combination(
        { built: [], bought: [made('made-main', 'main'), made('made-rear', 'rear')], minutes: 120 },
        ['390.00', '20.00', '410.00'],
      ),
      combination(
        {
          built: ['main'],
          bought: [made('made-rear', 'rear')],
          minutes: 660,
          tools: [{ label: 'crimp tool', paid: gbp('60.00'), counted: gbp('15.00') }],
          delivered: gbp('252.00'),
          leadUnknown: 2,
        },
        ['207.00', '110.00', '317.00'],
      ),
      combination({ built: ['rear'], bought: [made('made-main', 'main')], minutes: 420, state: 'ruledOut' }, [
        '300.00',
        '70.00',
        '370.00',
      ]),
    ],
    best: 2,
    allBuilt: 0,
    allBought: 1,
    proven: true,
    bound: gbp('317.00'),
    againstAllBought: { saving: gbp('190.00'), minutes: 840, hourWorth: gbp('13.57') },
    againstBest: { saving: gbp('7.00'), minutes: 300, hourWorth: gbp('1.40') },
    leftOut: ['what you learn'],
  };
}
