// The arrows of the house, as a tool checks them. One rule a room: what it may import of ours; anything else is an error.
const OURS = '^(api|worker|db|test|examples|docs)/|^[^/]+\\.[cm]?[jt]s$';
// Also where node_modules is a link to a folder elsewhere.
const library = (names) => `(^|/)node_modules/(${names})/`;
const room = (name, from, allowed, fromNot) => ({
  name,
  severity: 'error',
  comment: `${name}: may import of ours only ${allowed.join(', ') || 'itself'}`,
  from: { path: from, ...(fromNot ? { pathNot: fromNot } : {}) },
  to: { path: OURS, pathNot: [from, ...allowed] },
});

// They put a process together; main starts the worker beside it in embedded mode.
const COMMANDS = '^api/((main|embedded|key|newKey|load|reach|archive|demo)|archive/store)\\.ts$';
const MODEL = '^worker/engine/(model|units)/';

module.exports = {
  forbidden: [
    {
      name: 'no-circular',
      severity: 'error',
      from: {},
      to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } },
    },
    {
      name: 'no-orphans-outside',
      severity: 'error',
      comment: 'an import that does not resolve',
      from: {},
      to: { couldNotResolve: true },
    },
    {
      name: 'only-the-solver-knows-highs',
      severity: 'error',
      from: { pathNot: '^(worker/engine/solver/|test/bench/|test/sourcing/)' },
      to: { path: library('highs') },
    },
    {
      name: 'no-sql-in-handlers',
      severity: 'error',
      comment: 'handlers call stores; only db/ knows the database',
      from: { pathNot: '^(db|test)/' },
      to: { path: library('drizzle-orm|postgres|@electric-sql') },
    },
    {
      name: 'only-db-knows-its-tables',
      severity: 'error',
      comment:
        'a table in hand is a query away from SQL in a handler; types are free; a store hands on words such as roles',
      from: { pathNot: '^(db|test)/' },
      to: { path: '^db/(schema|migrations)/', dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'engine-is-pure',
      severity: 'error',
      comment: 'no library that talks, logs or serves in the engine, the sheets or the tables',
      from: { path: '^worker/(engine|csv|sheets|tables)/' },
      // hono/html is arithmetic on text: a template that escapes.
      to: {
        path: library('ioredis|bullmq|hono|@hono|pino|tsx'),
        pathNot: 'node_modules/hono/dist/(types/)?helper/html/',
      },
    },
    {
      name: 'engine-is-pure',
      severity: 'error',
      comment: 'no I/O of Node in the engine, the sheets or the tables; hashing is arithmetic',
      from: { path: '^worker/(engine|csv|sheets|tables)/' },
      to: { dependencyTypes: ['core'], pathNot: '^(node:)?(crypto|assert)$' },
    },
    {
      name: 'production-takes-no-tests',
      severity: 'error',
      from: { path: '^(api|worker|db)/' },
      to: { dependencyTypes: ['npm-dev'] },
    },
    room('engine', '^worker/engine/', []),
    // A job is put in order before any loom or offer is worked.
    room('engine-job', '^worker/engine/job/', [MODEL, '^worker/engine/trade/']),
    room('engine-loom', '^worker/engine/loom/', ['^worker/engine/(job|trade)/', MODEL]),
    // Which marks of a wire are sold as one size is asked where an offer names its wire by them.
    room('engine-model', '^worker/engine/(model|units)/', ['^worker/engine/trade/(wireSizes|area)\\.ts$']),
    // How text stands in the cells of any CSV that is written or read.
    room('csv', '^worker/csv/', []),
    room('sheets', '^worker/sheets/', [MODEL, '^worker/csv/']),
    room('threads', '^worker/threads/', ['^worker/engine/', '^worker/sheets/']),
    room('wake', '^worker/wake/', []),
    room('tasks', '^worker/tasks/', ['^worker/', '^db/']),
    // No server and no database: a job file in, tables and sheets out.
    // Spreadsheets in and out, as streams of bytes and text: no files, no database.
    room('tables', '^worker/tables/', [MODEL, '^worker/csv/']),
    room('price', '^worker/price(/|\\.ts$)', ['^worker/(command|engine|sheets|tables|threads)/']),
    // What all commands share: how they are called.
    room('command', '^worker/command/', ['^worker/engine/model/nearest\\.ts$']),
    room('worker', '^worker/(?!(command|csv|engine|sheets|tables|threads|wake|tasks|price)/|price\\.ts$)', [
      '^worker/',
      '^db/',
    ]),
    // Which offers a quote can reach is asked before they are read: the engine has the one opinion on that.
    room('db', '^db/', [MODEL, '^worker/engine/job/normalise\\.ts$']),
    room('api', '^api/', ['^worker/(wake|threads|sheets|tables)/', MODEL, '^db/'], COMMANDS),
    room('api-commands', COMMANDS, ['^api/', '^worker/', '^db/']),
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: {
      extensions: ['.ts', '.js', '.mjs', '.json'],
      exportsFields: ['exports'],
      conditionNames: ['import', 'node', 'types', 'default'],
    },
  },
};
