import highsModule, { type Highs } from 'highs';

/** The package's types are written for CommonJS; as an ES module its default export is the loader itself. */
const loadHighs = highsModule as unknown as typeof highsModule.default;

// eslint-disable-next-line no-restricted-syntax -- the library itself, which never changes once it is there
let loading: Promise<Highs> | undefined;

/** The solver, loaded once a process. */
export function highs(): Promise<Highs> {
  loading ??= loadHighs();
  return loading;
}
