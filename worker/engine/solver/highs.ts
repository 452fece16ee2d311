import highsModule, { type Highs } from 'highs';

/** The package's types are written for CommonJS; as an ES module its default export is the loader itself. */
const loadHighs = highsModule as unknown as typeof highsModule.default;

let loading: Promise<Highs> | undefined;

/** The solver, loaded once a process. */
export function highs(): Promise<Highs> {
  loading ??= loadHighs();
  return loading;
}
