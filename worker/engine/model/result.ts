import { z } from 'zod';
import { Bench } from './bench.ts';
import { Beside } from './beside.ts';
import { Bought } from './bought.ts';
import { BoughtAs } from './boughtAs.ts';
import { BuildOrBuy } from './buildOrBuy.ts';
import { Buyer, Contact } from './buyer.ts';
import { Comparison } from './comparison.ts';
import { Code, Day } from './code.ts';
import { Colour } from './colour.ts';
import { Finding } from './finding.ts';
import { LeftOut } from './leftOut.ts';
import { MadeFor, MadeLoom } from './madeLoom.ts';
import { Currency, MoneyOut } from './money.ts';
import { NotYetUsed } from './notYetUsed.ts';
import { PieceEnd } from './pieceEnd.ts';
import { Condition } from './offer.ts';
import { QuotedLoom } from './quotedLoom.ts';
import { EffectiveSettings } from './settings.ts';
import { Size } from './size.ts';
import { Step } from './step.ts';
import { SupplierNames } from './supplierNames.ts';
import { UnconfirmedPurchase } from './unconfirmed.ts';
import { MoreForMinimum, ThresholdMargin } from './thresholdMargin.ts';

export const RESULT_FORMAT = 'loomwright-result';
export const RESULT_VERSION = 5;

const whole = z.int().min(0);

/** What names a requirement within a result: "wire:thin-wall:1mm2:red+black" or "part:ring-6". */
const RequirementId = z.string();

const SparePiece = z.strictObject({ cutMm: whole, count: whole }).meta({ id: 'SparePiece' });

const WireRequirement = z
  .strictObject({
    id: RequirementId,
    kind: z.literal('wire'),
    label: z.string().meta({ description: 'The need in words.', example: 'thin-wall 1 mm² red' }),
    cableType: z.string(),
    size: Size,
    colour: Colour,
    pieces: z.array(
      z
        .strictObject({
          loom: MadeLoom,
          wire: Code,
          count: whole,
          cutMm: whole,
          ends: z.array(PieceEnd).optional().meta({ description: 'From and to. Absent in older results.' }),
          steps: z.array(Step),
        })
        .meta({ id: 'WirePiece' }),
    ),
    spares: z
      .array(SparePiece)
      .meta({ description: 'Spare wire, as pieces. Each piece is cut whole from one bought length.' }),
    totalMm: whole.meta({ description: 'Pieces and spares.' }),
    servedBy: z.array(Code).meta({ description: 'Parts of the catalogue that meet the need.' }),
    boughtAs: BoughtAs,
    steps: z.array(Step),
  })
  .meta({ id: 'WireRequirement' });

const CountRequirement = z
  .strictObject({
    id: RequirementId,
    kind: z.literal('count'),
    label: z.string(),
    part: Code,
    uses: z
      .array(z.strictObject({ loom: MadeLoom, where: z.string(), each: whole, total: whole }))
      .meta({ description: 'Where it is used: for one loom, and for all looms of that line.' }),
    used: whole,
    spares: whole,
    quantity: whole,
    servedBy: z.array(Code),
    boughtAs: BoughtAs,
    steps: z.array(Step),
  })
  .meta({ id: 'CountRequirement' });

/** A part by length that is no single wire: cable, sleeve, tape. */
const LengthRequirement = z
  .strictObject({
    id: RequirementId,
    kind: z.literal('length'),
    label: z.string(),
    part: Code,
    joinable: z
      .boolean()
      .meta({ description: 'For tape only the total counts. All else is cut as whole pieces from lengths.' }),
    pieces: z.array(
      z
        .strictObject({
          loom: MadeLoom,
          what: z.string().meta({ description: 'The id of the covering or cable.', example: 'covering C3' }),
          cores: z.array(Code).optional().meta({ description: 'The wires that are cores of this cable.' }),
          count: whole,
          cutMm: whole,
          steps: z.array(Step),
        })
        .meta({ id: 'LengthPiece' }),
    ),
    spares: z.array(SparePiece).optional().meta({
      description: 'Spare sleeve or tape, as pieces. Absent for a cable, and in older results.',
    }),
    totalMm: whole.meta({ description: 'Pieces and spares.' }),
    servedBy: z.array(Code),
    boughtAs: BoughtAs,
    steps: z.array(Step),
  })
  .meta({ id: 'LengthRequirement' });

export const Requirement = z
  .discriminatedUnion('kind', [WireRequirement, LengthRequirement, CountRequirement])
  .meta({ id: 'Requirement' });
export type Requirement = z.infer<typeof Requirement>;
export type WireRequirement = z.infer<typeof WireRequirement>;
export type LengthRequirement = z.infer<typeof LengthRequirement>;
export type CountRequirement = z.infer<typeof CountRequirement>;

/** What is joined together electrically, through shared terminals, joints, joiners and mated halves. */
export const LoomCircuit = z
  .strictObject({
    id: z.string().meta({ description: 'The loom and id of its first wire.', example: 'main/W3' }),
    names: z.array(z.string()).meta({ description: 'The names of circuit that its wires state.' }),
    wires: z.array(z.strictObject({ loom: MadeLoom, wire: Code })),
  })
  .meta({ id: 'LoomCircuit' });
export type LoomCircuit = z.infer<typeof LoomCircuit>;

export type { LeftOut } from './leftOut.ts';

/** What is bought over the need, and its share of the price. */
const Surplus = z
  .strictObject({ quantity: whole.optional(), mm: whole.optional(), value: MoneyOut })
  .meta({ id: 'Surplus', description: 'A leftover: pieces or millimetres, and what they cost.' });

export const Purchase = z
  .strictObject({
    requirement: RequirementId,
    alsoFor: z
      .array(RequirementId)
      .optional()
      .meta({ description: 'For a kit: the other needs that it serves.' }),
    offer: Code,
    supplier: Code,
    wave: whole.optional().meta({ description: 'The number of the order, if there are several.' }),
    part: Code.meta({ description: 'For a kit: its first part that is needed.' }),
    insteadOf: Code.optional().meta({ description: 'The part that it stands in for.' }),
    bought: Bought,
    exactCost: MoneyOut.meta({
      description:
        'Cost of the goods in the club’s currency, unrounded, before any tax or duty is added and after any tax is taken off.',
    }),
    cost: MoneyOut.meta({ description: 'The cost as it is printed: rounded half-up to the minor unit.' }),
    postageShare: MoneyOut.meta({
      description: 'The share of this line in its supplier’s postage and handling, by value.',
    }),
    taxShare: MoneyOut.optional().meta({
      description: 'The share of this line in tax, duty and import fees, by value, if there are any.',
    }),
    delivered: MoneyOut.meta({ description: 'The printed cost plus these shares.' }),
  })
  .meta({ id: 'Purchase' });
export type Purchase = z.infer<typeof Purchase>;

export const OrderLine = z
  .strictObject({
    line: whole,
    requirement: RequirementId,
    offer: Code,
    supplierCode: z.string().optional(),
    description: z.string(),
    colour: z.string().optional().meta({ description: 'In words.' }),
    colourLetters: z.string().optional().meta({
      description:
        'The colour in the letters of the looms’ colour system, if they share one. Read it with the words: letters of IEC 60757 do not say which of two colours is the base.',
    }),
    bought: Bought,
    holds: z.string().optional().meta({
      description: 'What one kit contains, if the description does not say it.',
      example: '10 × Bullet 4.7 mm, 5 × Joiner',
    }),
    instead: z
      .array(z.strictObject({ supplierCode: z.string().optional(), description: z.string() }))
      .optional()
      .meta({
        description:
          'What this supplier also sells and may send instead: the same part, or a confirmed stand-in that passes the checks. An empty list: the supplier must not send anything else.',
      }),
    oneContinuousLength: z.boolean(),
    condition: Condition,
    seenOn: Day.optional(),
    cost: MoneyOut,
    theirCost: MoneyOut.optional().meta({
      description: 'The cost at the prices as entered, if the supplier’s currency is not the club’s.',
    }),
  })
  .meta({ id: 'OrderLine' });
export type OrderLine = z.infer<typeof OrderLine>;

export const OrderList = z
  .strictObject({
    supplier: Code,
    name: z.string(),
    wave: whole.optional().meta({ description: 'The number of the order, if there are several.' }),
    madeFor: MadeFor.optional(),
    contact: Contact.optional().meta({ description: 'How to reach the supplier.' }),
    buyer: Buyer.optional(),
    reference: z.string().optional(),
    vehicles: z.array(z.string()).optional().meta({ description: 'What the looms are for.' }),
    lines: z.array(OrderLine),
    goods: MoneyOut.meta({ description: 'Sum of the lines as printed.' }),
    postage: MoneyOut,
    handling: MoneyOut,
    tax: MoneyOut.optional().meta({ description: 'Tax that the supplier’s invoice adds.' }),
    duty: MoneyOut.optional(),
    importTax: MoneyOut.optional(),
    clearance: MoneyOut.optional().meta({ description: 'The carrier’s fee.' }),
    theirs: z
      .strictObject({
        currency: Currency,
        rate: z.string(),
        on: Day,
        goods: MoneyOut,
        postage: MoneyOut,
        handling: MoneyOut,
        taxTakenOffPercent: z.number().optional().meta({
          description:
            'The tax of the supplier’s country in these prices, which is taken off because the goods are sent abroad.',
        }),
      })
      .optional()
      .meta({
        description:
          'The sums in the supplier’s own currency, at the prices as entered, if that is not the club’s.',
      }),
    rounding: MoneyOut.meta({ description: 'Rounding, from the printed lines to the total.' }),
    total: MoneyOut,
    margins: z.array(ThresholdMargin).optional().meta({
      description:
        'The thresholds that this order meets by little. Absent if there are none, and in older results.',
    }),
    moreForMinimum: MoreForMinimum.array().optional(),
  })
  .meta({ id: 'OrderList', description: 'One supplier’s share of a quote.' });
export type OrderList = z.infer<typeof OrderList>;

export const CostLine = z
  .strictObject({
    kind: z.enum(['goods', 'postage', 'handling', 'tax', 'duty', 'importTax', 'clearance', 'rounding']),
    supplier: Code,
    wave: whole.optional(),
    label: z.string(),
    amount: MoneyOut,
  })
  .meta({ id: 'CostLine' });
export type CostLine = z.infer<typeof CostLine>;

export const Unsourced = z
  .strictObject({ requirement: RequirementId, label: z.string(), why: z.string(), todo: z.string() })
  .meta({ id: 'Unsourced', description: 'A need that no offer meets.' });
export type Unsourced = z.infer<typeof Unsourced>;

export type { NotYetUsed } from './notYetUsed.ts';

export const Proof = z
  .strictObject({
    status: z.enum(['proven', 'bestSoFar', 'nothingToBuy']),
    cost: MoneyOut.meta({ description: 'Delivered cost of the mix, unrounded.' }),
    bound: MoneyOut.meta({ description: 'Lower bound: no mix costs less than this.' }),
    gap: MoneyOut,
    gapPercent: z.number(),
    nuisance: MoneyOut.optional().meta({
      description:
        'The parcelNuisance of all parcels. It is included in cost and bound, and nobody is paid it.',
    }),
    stoppedBy: z.enum(['time', 'numbers', 'cutting']).optional().meta({
      description:
        'Why it is not proven: the time ran out; the numbers are too large for the solver; or there were too many ways of cutting to try them all.',
    }),
    assumptions: z.array(z.string()),
  })
  .meta({ id: 'Proof' });
export type Proof = z.infer<typeof Proof>;

/** What one bought length is cut into. */
export const CutLength = z
  .strictObject({
    offer: Code.optional(),
    stock: Code.optional().meta({ description: 'If it comes from stock: the stock item.' }),
    wave: whole
      .optional()
      .meta({ description: 'The number of the order with which it comes, if there are several.' }),
    lengths: whole.meta({ description: 'How many lengths are cut in the same way.' }),
    usableMm: whole,
    pieces: z.array(
      z.strictObject({
        cutMm: whole,
        count: whole,
        names: z.array(z.string()).optional().meta({
          description:
            'What the pieces are for, of all lengths that are cut in the same way: "main/W3", "main/covering C1", "spare".',
        }),
      }),
    ),
    offcutMm: whole,
  })
  .meta({ id: 'CutLength' });
export type CutLength = z.infer<typeof CutLength>;

export const CuttingPlan = z
  .strictObject({
    requirement: RequirementId,
    exact: z.boolean().meta({ description: 'false: not proven that no way of cutting uses less.' }),
    lengths: z.array(CutLength),
  })
  .meta({ id: 'CuttingPlan', description: 'Which pieces are cut from which bought length.' });
export type CuttingPlan = z.infer<typeof CuttingPlan>;

/** What is taken off the shelf for a requirement. */
export const FromStock = z
  .strictObject({
    requirement: RequirementId,
    label: z.string(),
    stock: Code,
    part: Code,
    insteadOf: Code.optional(),
    count: whole,
    lengthMm: whole.optional().meta({ description: 'Millimetres of each, if it is a length.' }),
    owner: z.string().optional().meta({ description: 'The member whose it is. Left out: it is the club’s.' }),
    place: z.string().optional().meta({ description: 'Where it lies, if that is known.' }),
  })
  .meta({ id: 'FromStock' });
export type FromStock = z.infer<typeof FromStock>;

/** What is left over of one requirement. */
export const Leftover = z
  .strictObject({ requirement: RequirementId, label: z.string(), surplus: Surplus })
  .meta({ id: 'Leftover' });
export type Leftover = z.infer<typeof Leftover>;

export const Result = z
  .strictObject({
    format: z.literal(RESULT_FORMAT),
    version: z.literal(RESULT_VERSION),
    jobHash: z.string().meta({ description: 'SHA-256 of the job that the result was worked from.' }),
    asOf: Day,
    currency: Currency,
    looms: z.array(QuotedLoom),
    settings: EffectiveSettings,
    circuits: z.array(LoomCircuit),
    bench: Bench.optional().meta({
      description: 'What the sheets for the bench are made from. Absent in older results.',
    }),
    requirements: z.array(Requirement),
    leftOut: z.array(LeftOut),
    families: z
      .array(z.strictObject({ needed: Code, bought: Code }))
      .meta({ description: 'Families for which other families can stand in, with the one that is bought.' }),
    rates: z
      .array(z.strictObject({ currency: Currency, rate: z.string(), on: Day }))
      .meta({ description: 'The rates of exchange that were used.' }),
    fromStock: z.array(FromStock),
    purchases: z.array(Purchase),
    cuttingPlans: z.array(CuttingPlan),
    leftovers: z.array(Leftover),
    orderLists: z.array(OrderList),
    unconfirmed: z.array(UnconfirmedPurchase).optional().meta({
      description: 'Which purchases rest on what nobody has confirmed. Absent if none does.',
    }),
    supplierNames: SupplierNames.optional(),
    costs: z.strictObject({ lines: z.array(CostLine), total: MoneyOut }),
    unsourced: z.array(Unsourced),
    comparisons: z.array(Comparison),
    beside: Beside.optional().meta({
      description:
        'Absent if nothing is bought, if the setting besideSeconds is 0, while besideState is present, and in older results.',
    }),
    besideState: z.enum(['working', 'cancelled', 'failed']).optional().meta({
      description:
        'Why `beside` is missing. working: the close alternatives are still being worked out, and a result with them will replace this one. cancelled, failed: they were not finished, and the quote stays without them.',
    }),
    buildOrBuy: BuildOrBuy.optional().meta({
      description:
        'Absent if the request does not ask for it, while buildOrBuyState is present, and in older results.',
    }),
    buildOrBuyState: z.enum(['working', 'cancelled', 'failed']).optional().meta({
      description:
        'Why `buildOrBuy` is missing, as besideState. working: the comparison is still being worked out, and a result with it will replace this one. cancelled, failed: it was not finished, and the quote stays without it.',
    }),
    timeLimited: z
      .array(z.enum(['purchases', 'ties', 'comparisons', 'beside', 'buildOrBuy']))
      .optional()
      .meta({
        description:
          'Parts of the result that were not finished in time. They can come out differently when the job is worked again or with more time; everything else is byte for byte the same for the same job. purchases: the mix itself and all that follows from it. ties: which of several equally cheap mixes was taken. Absent in older results.',
      }),
    notYetUsed: z.array(NotYetUsed),
    findings: z.array(Finding),
    proof: Proof,
    cautions: z.array(z.string()),
  })
  .meta({ id: 'Result', description: 'The answer to a quote. It depends only on its job.' });
export type Result = z.infer<typeof Result>;
