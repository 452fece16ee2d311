/**
 * What this engine does with each field of a job: `used` in the sums or printed from; `kept` as names, notes and labels
 * with nothing to compute; `notYet` accepted and stored, but without part in the quote. An entry covers all below it.
 * `offers[form=kit]` are the entries of a list that have that shape; `[]` are all.
 */
export type Usage = 'used' | 'kept' | 'notYet';

const ENDS = ['from', 'to'] as const;
const FORMS = ['pack', 'metre', 'length', 'kit'] as const;
const PACKED = ['pack', 'length', 'kit'] as const;

const USED = [
  'format',
  'version',
  'asOf',
  'club.currency',
  'club.settings',
  'request',
  'parts[].kind',
  'parts[].code',
  'parts[].description',
  'parts[].shade',
  'parts[kind=wire].cableType',
  'parts[kind=wire].size',
  'parts[kind=wire].colour.base',
  'parts[kind=wire].colour.tracer',
  'suppliers[].code',
  'suppliers[].name',
  'suppliers[].currency',
  'suppliers[].postage',
  'suppliers[].minimumOrder',
  'suppliers[].handling',
  'parts[].weightG',
  'parts[].gramsPerM',
  'parts[kind=sleeve].sleeveType',
  'parts[kind=sleeve].lengthwiseChangePercent',
  ...FORMS.flatMap((form) =>
    ['form', 'code', 'supplier', 'supplierCode', 'description', 'seenOn', 'condition', 'breaks'].map(
      (field) => `offers[form=${form}].${field}`,
    ),
  ),
  ...['pack', 'metre', 'length'].map((form) => `offers[form=${form}].part`),
  ...PACKED.flatMap((form) =>
    ['packPrice', 'minimumPacks', 'stepPacks', 'stockPacks'].map((field) => `offers[form=${form}].${field}`),
  ),
  'offers[form=pack].packCount',
  ...['nominalMm', 'tolerancePercent', 'endLossMm'].map((field) => `offers[form=length].${field}`),
  'offers[form=kit].contents',
  'offers[form=metre].stockMm',
  'offers[form=metre].pricePerMetre',
  'offers[form=metre].minimumMm',
  'offers[form=metre].stepMm',
  'looms[].code',
  'looms[].revision',
  'looms[].name',
  ...['slackPercent', 'tailMm', 'stripMm', 'redoMm', 'cuttingStepMm', 'sparePercent', 'spareMinimum'].map(
    (setting) => `looms[].settings.${setting}`,
  ),
  'looms[].colourSystem',
  ...['id', 'from', 'to', 'lengthMm'].map((field) => `looms[].branches[].${field}`),
  ...['id', 'kind', 'part', 'supply', 'suppliedByLoom'].map((field) => `looms[].points[].${field}`),
  ...[
    'id',
    'cableType',
    'size',
    'colour.base',
    'colour.tracer',
    'colour.letters',
    'supply',
    'length.mm',
    'length.basis',
    'length.plusMinusMm',
    'via',
    'inCable',
  ].map((field) => `looms[].wires[].${field}`),
  ...['id', 'part', 'supply', 'length.mm', 'length.basis', 'via'].map((field) => `looms[].cables[].${field}`),
  ...['id', 'part', 'supply', 'lengthMm', 'over', 'overlapStartMm', 'overlapEndMm'].map(
    (field) => `looms[].coverings[].${field}`,
  ),
  ...ENDS.flatMap((end) =>
    ['point', 'join', 'terminal', 'seal', 'cover', 'label', 'sharesTerminal', 'stripMm', 'tailMm'].map(
      (field) => `looms[].wires[].${end}.${field}`,
    ),
  ),
  ...['part', 'supply', 'quantity', 'branch', 'atMm'].map((field) => `looms[].fittings[].${field}`),
  ...['part', 'supply', 'quantity'].map((field) => `looms[].parts[].${field}`),
];

const KEPT = [
  'parts[].maker',
  'parts[].makerCode',
  'parts[].note',
  'parts[kind=wire].colour.seen',
  ...['tapeType', 'terminalType', 'coverType', 'joinerType', 'deviceType', 'fittingType'].map(
    (field) => `parts[].${field}`,
  ),
  ...['country', 'website', 'email', 'phone', 'note'].map((field) => `suppliers[].${field}`),
  ...FORMS.flatMap((form) => ['link', 'note'].map((field) => `offers[form=${form}].${field}`)),
  'looms[].vehicle',
  'looms[].note',
  'looms[].points[].label',
  'looms[].wires[].note',
  'looms[].wires[].colour.seen',
  'looms[].wires[].length.measured',
  'looms[].cables[].length.measured',
  'looms[].coverings[].kind',
  'looms[].parts[].note',
];

/** Figures of parts for checks that are not made yet. */
const FIGURES = [
  'family',
  'standsInFor',
  'outsideDiameterMm',
  'resistanceMilliohmPerM',
  'temperatureMaxC',
  'ratedAmps',
];

const FIGURES_BY_KIND: Record<string, string[]> = {
  cable: ['cableType', 'cores', 'screened'],
  sleeve: ['boreMm', 'recoveredBoreMm', 'wallMm', 'holdsMinMm', 'holdsMaxMm', 'shortensTo'],
  tape: ['widthMm', 'thicknessMm', 'stretchPercent'],
  terminal: [
    'gender',
    'join',
    'wireMinMm2',
    'wireMaxMm2',
    'insulationMinMm',
    'insulationMaxMm',
    'sizeMm',
    'stripMm',
  ],
  seal: ['insulationMinMm', 'insulationMaxMm', 'cavityMm'],
  housing: ['ways', 'housingGender', 'contactGender', 'mates', 'sealed'],
  boot: ['boreMm'],
  joiner: ['positions', 'sizeMm'],
  device: ['pins', 'fuseBasis', 'resistanceOhm'],
  fitting: ['boreMm', 'panelHoleMm'],
  tool: ['worksFamilies'],
  madeUpLoom: ['forLooms'],
};

const NOT_YET = [
  ...FIGURES.map((field) => `parts[].${field}`),
  ...Object.entries(FIGURES_BY_KIND).flatMap(([kind, fields]) =>
    fields.map((field) => `parts[kind=${kind}].${field}`),
  ),
  ...['pricesInclude', 'leadDays'].map((field) => `suppliers[].${field}`),
  ...FORMS.map((form) => `offers[form=${form}].leadDays`),
  ...['systemVoltage', 'earth', 'look', 'options'].map((field) => `looms[].${field}`),
  // Of the quote as a whole, not of one loom.
  ...['solverSeconds', 'oneColourOneSupplier', 'conditionsAccepted', 'priceAgeDays'].map(
    (setting) => `looms[].settings.${setting}`,
  ),
  ...['ways', 'pins', 'options'].map((field) => `looms[].points[].${field}`),
  'looms[].branches[].options',
  ...['length.plusMinusMm', 'options'].map((field) => `looms[].cables[].${field}`),
  ...['outer', 'options'].map((field) => `looms[].coverings[].${field}`),
  ...['colourRule', 'amps', 'fuse', 'function', 'circuit', 'twistedWith', 'options'].map(
    (field) => `looms[].wires[].${field}`,
  ),
  ...ENDS.flatMap((end) => ['way', 'terminateInVehicle'].map((field) => `looms[].wires[].${end}.${field}`)),
  ...['threadedBefore', 'options'].map((field) => `looms[].fittings[].${field}`),
  'looms[].parts[].options',
];

/** Every entry of the table, each once. */
export const USAGE: readonly (readonly [path: string, usage: Usage])[] = [
  ...USED.map((path) => [path, 'used'] as const),
  ...KEPT.map((path) => [path, 'kept'] as const),
  ...NOT_YET.map((path) => [path, 'notYet'] as const),
];
