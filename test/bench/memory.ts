import { readFileSync } from 'node:fs';

/**
 * The most memory that this process has held. What Node tells would be that of the parent, where it held more when it
 * started this one: Linux keeps that figure over the start of a program, but not the one in /proc.
 */
export function peakRssMb(): number {
  const kilobytes =
    process.platform === 'linux'
      ? Number(/VmHWM:\s*(\d+)/.exec(readFileSync('/proc/self/status', 'utf8'))?.[1])
      : process.resourceUsage().maxRSS;
  return Math.round(kilobytes / 1024);
}
