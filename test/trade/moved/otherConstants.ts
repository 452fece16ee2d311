import { inFile, type Constant } from './constant.ts';

const LETTERS = 'letters are no numbers: others stand in their place';

/** Defaults of the settings, guards, and letters of colours. */
export const OTHER_CONSTANTS: readonly Constant[] = [
  ...inFile(
    'model/settings.ts',
    'slackPercent: «3»',
    'stripMm: «6»,',
    'redoMm: «12»,',
    "'joint', stripMm: «15»",
    'overMm2: «6»',
    'stripMm: «12», redoMm',
    'redoMm: «25»',
    'twistPitchMm: «30»',
    'sparePercent: «5»',
    'crimpFailurePercent: «2»',
    'spareConfidencePercent: «95»',
    'spareWirePercent: «5»',
    'tracerSleeveMm: «25»',
    'sleeveClearancePercent: «10»',
    'sleeveClearancePerMetrePercent: «5»',
    'sleeveLoosePercent: «100»',
    'braidExtraPercent: «10»',
    'braidTrimMm: «5»',
    'tapeOverlapPercent: «50»',
    'tapeExtraTurns: «3»',
    'workingTemperatureC: «60»',
    'voltageDropPercent: «10»',
    'jointMillivolts: «20»',
    'returnMillivolts: «50»',
  ),
  ...inFile('loom/counts/spares.ts', 'failingPercent / «100»', '<= n - «good»'),
  ...inFile('loom/coverings/fit.ts', 'SLIGHT_PERCENT = «10»'),
  ...inFile('loom/checks/voltageDrop.ts', 'systemVoltage * «10»'),
  ...inFile(
    'model/colourLetters.ts',
    { text: "['«GN»', 'green']", instead: 'QN', oneWay: LETTERS },
    { text: "['«BN»', 'brown']", instead: 'QN', oneWay: LETTERS },
    { text: "['«BU»', 'blue']", instead: 'QU', oneWay: LETTERS },
    { text: "['«N»', 'brown']", instead: 'Q', oneWay: LETTERS },
    { text: "['«W»', 'white']", instead: 'Q', oneWay: LETTERS },
    { text: "['«U»', 'blue']", instead: 'Q', oneWay: LETTERS },
    { text: "['«gn»', 'green']", instead: 'qn', oneWay: LETTERS },
    { text: "['«bl»', 'blue']", instead: 'ql', oneWay: LETTERS },
    { text: "['«br»', 'brown']", instead: 'qr', oneWay: LETTERS },
  ),
];
