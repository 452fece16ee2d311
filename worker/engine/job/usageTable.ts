/**
 * What this engine does with each field of a job: `used` in the sums or printed from; `kept` as names, notes and labels
 * with nothing to compute; `notYet` accepted and stored, but without part in the quote. An entry covers all below it.
 * `offers[form=kit]` are the entries of a list that have that shape; `[]` are all.
 */
export type Usage = 'used' | 'kept' | 'notYet';

const ENDS = ['from', 'to'] as const;
const FORMS = ['pack', 'metre', 'length', 'kit'] as const;
const PACKED = ['pack', 'length', 'kit'] as const;

/** Settings that hold for one loom, beside those of lengths. */
const LOOM_SETTINGS = [
  'byJoin',
  'trimOnBoardMm',
  'twistPitchMm',
  'crimpFailurePercent',
  'spareConfidencePercent',
  'setUpCrimps',
  'spareWirePercent',
  'spareWirePieces',
  'tracerSleeveMm',
  'sleeveClearancePercent',
  'sleeveClearancePerMetrePercent',
  'sleeveLoosePercent',
  'braidExtraPercent',
  'braidTrimMm',
  'tapeOverlapPercent',
  'tapeExtraTurns',
  'workingTemperatureC',
  'voltageDropPercent',
  'jointMillivolts',
  'returnMillivolts',
];

/** What a lane says of money; the rest of it is names and notes. */
const LANE = [
  'from',
  'to',
  'taxPercent',
  'taxOverValue',
  'dutyPercent',
  'dutyOverValue',
  'dutyOn',
  'clearanceFee',
  'clearanceOverValue',
  'valueIs',
  'exactlyThere',
  'sellerTaxPercent',
];

const USED = [
  'format',
  'version',
  'asOf',
  'club.currency',
  'club.country',
  'club.settings',
  ...['currency', 'on', 'rate'].map((field) => `rates[].${field}`),
  ...LANE.map((field) => `lanes[].${field}`),
  ...['form', 'code', 'part', 'count', 'lengthMm'].map((field) => `stock[].${field}`),
  'parts[].standsInFor',
  'parts[kind=tool].worksFamilies',
  ...['country', 'pricesInclude', 'leadDays'].map((field) => `suppliers[].${field}`),
  ...FORMS.map((form) => `offers[form=${form}].leadDays`),
  'request',
  'parts[].kind',
  'parts[].code',
  'parts[].description',
  'parts[].shade',
  'parts[kind=wire].cableType',
  'parts[kind=wire].size',
  'parts[kind=wire].colour.base',
  'parts[kind=wire].colour.tracer',
  ...['from', 'relation', 'to', 'status'].map((field) => `fits[].${field}`),
  'looms[].asOriginal',
  'parts[].family',
  ...[
    'terminalType',
    'gender',
    'join',
    'wireMinMm2',
    'wireMaxMm2',
    'insulationMinMm',
    'insulationMaxMm',
    'sizeMm',
    'stripMm',
    'tailMm',
    'redoMm',
  ].map((field) => `parts[kind=terminal].${field}`),
  ...['insulationMinMm', 'insulationMaxMm'].map((field) => `parts[kind=seal].${field}`),
  ...['ways', 'housingGender', 'contactGender', 'mates', 'sealed'].map(
    (field) => `parts[kind=housing].${field}`,
  ),
  ...['positions', 'sizeMm'].map((field) => `parts[kind=joiner].${field}`),
  'parts[kind=device].pins',
  'suppliers[].code',
  'suppliers[].name',
  'suppliers[].currency',
  'suppliers[].postage',
  'suppliers[].minimumOrder',
  'suppliers[].handling',
  'parts[].weightG',
  'parts[].gramsPerM',
  ...[
    'sleeveType',
    'lengthwiseChangePercent',
    'restDiameterMm',
    'braidAngleDeg',
    'boreMm',
    'recoveredBoreMm',
    'wallMm',
    'holdsMinMm',
    'holdsMaxMm',
    'shortensTo',
  ].map((field) => `parts[kind=sleeve].${field}`),
  ...['widthMm', 'thicknessMm', 'stretchPercent'].map((field) => `parts[kind=tape].${field}`),
  'parts[kind=boot].boreMm',
  ...['boreMm', 'fittingType'].map((field) => `parts[kind=fitting].${field}`),
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
  ...['resistanceMilliohmPerM', 'temperatureMaxC', 'ratedAmps', 'outsideDiameterMm'].map(
    (field) => `parts[].${field}`,
  ),
  ...['deviceType', 'madeForEarth', 'fuseBasis'].map((field) => `parts[kind=device].${field}`),
  ...['systemVoltage', 'earth'].map((field) => `looms[].${field}`),
  ...['amps', 'fuse', 'circuit', 'colourRule', 'function', 'twistedWith'].map(
    (field) => `looms[].wires[].${field}`,
  ),
  'looms[].code',
  'looms[].revision',
  'looms[].name',
  ...[
    'slackPercent',
    'tailMm',
    'stripMm',
    'redoMm',
    'cuttingStepMm',
    'sparePercent',
    'spareMinimum',
    ...LOOM_SETTINGS,
  ].map((setting) => `looms[].settings.${setting}`),
  'looms[].colourSystem',
  'looms[].options',
  'looms[].optionsLeftOut',
  ...['points', 'branches', 'wires', 'cables', 'coverings', 'fittings', 'parts'].map(
    (list) => `looms[].${list}[].options`,
  ),
  ...['id', 'from', 'to', 'lengthMm'].map((field) => `looms[].branches[].${field}`),
  ...['id', 'kind', 'part', 'supply', 'suppliedByLoom', 'ways', 'pins', 'matedTo'].map(
    (field) => `looms[].points[].${field}`,
  ),
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
  ...[
    'id',
    'kind',
    'part',
    'shade',
    'supply',
    'lengthMm',
    'over',
    'outer',
    'overlapStartMm',
    'overlapEndMm',
  ].map((field) => `looms[].coverings[].${field}`),
  ...ENDS.flatMap((end) =>
    ['point', 'way', 'join', 'terminal', 'seal', 'cover', 'label', 'sharesTerminal', 'stripMm', 'tailMm'].map(
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
  ...['tapeType', 'coverType', 'joinerType'].map((field) => `parts[].${field}`),
  ...['website', 'email', 'phone', 'note'].map((field) => `suppliers[].${field}`),
  ...['code', 'note'].map((field) => `rates[].${field}`),
  ...['code', 'seenOn', 'note'].map((field) => `lanes[].${field}`),
  'stock[].note',
  ...FORMS.flatMap((form) => ['link', 'note'].map((field) => `offers[form=${form}].${field}`)),
  ...['by', 'note'].map((field) => `fits[].${field}`),
  'looms[].vehicle',
  'looms[].note',
  'looms[].points[].label',
  'looms[].wires[].note',
  'looms[].wires[].colour.seen',
  'looms[].wires[].length.measured',
  'looms[].cables[].length.measured',
  'looms[].parts[].note',
];

/** Figures of parts for checks that are not made yet. */
const FIGURES_BY_KIND: Record<string, string[]> = {
  cable: ['cableType', 'cores', 'screened'],
  seal: ['cavityMm'],
  device: ['resistanceOhm'],
  fitting: ['panelHoleMm'],
  madeUpLoom: ['forLooms'],
};

const NOT_YET = [
  ...Object.entries(FIGURES_BY_KIND).flatMap(([kind, fields]) =>
    fields.map((field) => `parts[kind=${kind}].${field}`),
  ),
  ...['look'].map((field) => `looms[].${field}`),
  // Of the quote as a whole, not of one loom.
  ...[
    'solverSeconds',
    'besideSeconds',
    'oneColourOneSupplier',
    'conditionsAccepted',
    'standInsAccepted',
    'rateAgeDays',
    'priceAgeDays',
    'stopsBlock',
  ].map((setting) => `looms[].settings.${setting}`),
  ...['length.plusMinusMm'].map((field) => `looms[].cables[].${field}`),
  ...ENDS.flatMap((end) => ['terminateInVehicle'].map((field) => `looms[].wires[].${end}.${field}`)),
  'looms[].fittings[].threadedBefore',
];

/** Every entry of the table, each once. */
export const USAGE: readonly (readonly [path: string, usage: Usage])[] = [
  ...USED.map((path) => [path, 'used'] as const),
  ...KEPT.map((path) => [path, 'kept'] as const),
  ...NOT_YET.map((path) => [path, 'notYet'] as const),
];
