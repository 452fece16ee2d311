/** Days from 1 March of year 0 to a calendar day (YYYY-MM-DD), by the Gregorian rules: for differences of days. */
export function dayNumber(day: string): number {
  const [year = 0, month = 1, date = 1] = day.split('-').map(Number);
  // Years that begin in March have their leap day at the end.
  const shifted = month > 2 ? year : year - 1;
  const monthFromMarch = (month + 9) % 12;
  const leaps = Math.floor(shifted / 4) - Math.floor(shifted / 100) + Math.floor(shifted / 400);
  return 365 * shifted + leaps + Math.floor((153 * monthFromMarch + 2) / 5) + date - 1;
}

/** The calendar day so many days after another. */
export function plusDays(day: string, days: number): string {
  const [year = 0, month = 1, date = 1] = day.split('-').map(Number);
  // A date of UTC has no hour that is left out or stands twice.
  const then = new Date(0);
  then.setUTCFullYear(year, month - 1, date + days);
  return then.toISOString().slice(0, 10);
}
