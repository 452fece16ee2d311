/** Seconds of this process’s processors, user and system, and of the clock on the wall. */
export interface Taken {
  cpuSeconds: number;
  wallSeconds: number;
}

/** Starts now; tells what was taken since. A machine that is busy with other things takes longer, but no more processor. */
export function stopwatch(): () => Taken {
  const [cpu, wall] = [process.cpuUsage(), performance.now()];
  return () => {
    const { user, system } = process.cpuUsage(cpu);
    return { cpuSeconds: (user + system) / 1e6, wallSeconds: (performance.now() - wall) / 1000 };
  };
}
