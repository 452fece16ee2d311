import tseslint from 'typescript-eslint';
import prettier from 'eslint-config-prettier';

// The engine is pure: no I/O, no clock, no random. What it may not call is named here, so that a slip fails the check.
const impure = [
  {
    object: 'Date',
    property: 'now',
    message: 'The engine has no clock: take asOf from the job, time from Control.',
  },
  { object: 'Math', property: 'random', message: 'The engine has no random.' },
];
const noClock = {
  selector: "NewExpression[callee.name='Date'][arguments.length=0], CallExpression[callee.name='Date']",
  message: 'The engine has no clock.',
};
const effects = [
  ...['process', 'globalThis', 'global', 'console', 'fetch', 'crypto', 'performance'],
  ...['setTimeout', 'setInterval', 'setImmediate', 'queueMicrotask'],
];

export default tseslint.config(
  { ignores: ['dist', 'node_modules', 'data', 'demo-data', '{worker/threads,api/http/reading}/*.mjs'] },
  ...tseslint.configs.recommendedTypeChecked,
  prettier,
  {
    languageOptions: { parserOptions: { projectService: true, tsconfigRootDir: import.meta.dirname } },
    rules: {
      '@typescript-eslint/no-explicit-any': 'error',
      '@typescript-eslint/switch-exhaustiveness-check': 'error',
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_' }],
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true }],
      '@typescript-eslint/require-await': 'off',
      eqeqeq: 'error',
      'max-lines': ['error', { max: 400, skipBlankLines: true, skipComments: true }],
    },
  },
  {
    files: ['worker/engine/**/*.ts', 'worker/csv/**/*.ts', 'worker/sheets/**/*.ts'],
    rules: {
      'no-restricted-properties': ['error', ...impure],
      'no-restricted-globals': ['error', ...effects],
      'no-restricted-imports': [
        'error',
        { paths: ['crypto', 'node:crypto'].map((name) => ({ name, allowImportNames: ['createHash'] })) },
      ],
      'no-restricted-syntax': ['error', noClock],
    },
  },
  {
    files: ['worker/engine/{solver,cutting,sourcing}/**/*.ts'],
    ignores: ['worker/engine/solver/tolerances.ts'],
    rules: {
      'no-restricted-syntax': [
        'error',
        noClock,
        {
          selector: 'Literal[raw=/^[0-9.]+e-/]',
          message: 'Tolerances stand in solver/tolerances.ts, each with its reason.',
        },
        {
          selector:
            "Program > VariableDeclaration[kind='let'], Program > ExportNamedDeclaration > VariableDeclaration[kind='let'], " +
            'Program > VariableDeclaration > VariableDeclarator > NewExpression[callee.name=/(Map|Set|Array)$/]',
          message: 'A module keeps no state: what is written over belongs to an object with an owner.',
        },
      ],
    },
  },
  { files: ['**/*.js', '**/*.cjs', '**/*.mjs'], extends: [tseslint.configs.disableTypeChecked] },
);
