import { isIP, isIPv4 } from 'node:net';

/**
 * From where a request comes, for counting: an IPv4 address, or the /64 of an IPv6 address, all of which one customer of
 * a provider has. Behind `proxies` servers of one’s own it is what the outermost of them wrote to X-Forwarded-For; what
 * stands before that anybody may have written. Undefined where it is not known.
 */
export function addressOf(
  socketAddress: string | undefined,
  forwardedFor: string | undefined,
  proxies: number,
): string | undefined {
  const written = proxies === 0 ? [] : (forwardedFor ?? '').split(',');
  const forwarded = written.at(-proxies)?.trim();
  const address = forwarded !== undefined && isIP(forwarded) !== 0 ? forwarded : socketAddress;
  return address === undefined ? undefined : networkOf(address);
}

function networkOf(address: string): string {
  const [, mapped = address] = /^::ffff:([\d.]+)$/i.exec(address) ?? [];
  if (isIPv4(mapped)) return mapped;
  const [before = '', after] = address.replace(/%.*$/, '').toLowerCase().split('::');
  const head = before === '' ? [] : before.split(':');
  // What follows the gap may reach into the first four groups only where the gap is short.
  const tail = after === undefined || after === '' ? [] : after.split(':');
  const groupsAfter = tail.length + (tail.at(-1)?.includes('.') === true ? 1 : 0);
  const gap = after === undefined ? [] : Array<string>(8 - head.length - groupsAfter).fill('0');
  const first = [...head, ...gap, ...tail].slice(0, 4).map((group) => group.replace(/^0+(?=.)/, ''));
  return `${first.join(':')}::/64`;
}
