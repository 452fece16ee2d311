/** Published examples: pieces as [mm, count] out of the fewest lengths of `stock` mm, of which `optimum` are the fewest. */
export const ONE_STOCK: [
  source: string,
  stock: number,
  pieces: [mm: number, count: number][],
  optimum: number,
][] = [
  [
    'Chvátal, Linear Programming, p. 195',
    100,
    [
      [45, 97],
      [36, 610],
      [31, 395],
      [14, 211],
    ],
    453,
  ],
  [
    'Wikipedia, Cutting stock problem, paper rolls',
    5600,
    [
      [1380, 22],
      [1520, 25],
      [1560, 12],
      [1710, 14],
      [1820, 18],
      [1880, 18],
      [1930, 20],
      [2000, 10],
      [2050, 12],
      [2100, 14],
      [2140, 16],
      [2150, 18],
      [2200, 20],
    ],
    73,
  ],
  [
    'Fourer, Gay and Kernighan, AMPL, ch. 15',
    110,
    [
      [20, 48],
      [45, 35],
      [50, 24],
      [55, 10],
      [75, 8],
    ],
    47,
  ],
  [
    'VPSolver, example csp.vbp',
    5180,
    [
      [1120, 9],
      [1250, 5],
      [520, 91],
      [1066, 18],
      [1000, 11],
      [1150, 64],
    ],
    33,
  ],
];
