/** The parts that a process needs, by name; each rejects where it does not answer. */
export type Parts = Record<string, () => Promise<unknown>>;

const WITHIN_MS = 2_000;

/** The names of the parts that do not answer in time. */
export async function notAnswering(parts: Parts): Promise<string[]> {
  const outcomes = await Promise.all(
    Object.entries(parts).map(async ([name, answers]) => ((await inTime(answers())) ? [] : [name])),
  );
  return outcomes.flat();
}

async function inTime(answer: Promise<unknown>): Promise<boolean> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<false>((resolve) => (timer = setTimeout(() => resolve(false), WITHIN_MS)));
  const answered = answer.then(
    () => true,
    () => false,
  );
  return Promise.race([answered, late]).finally(() => clearTimeout(timer));
}
