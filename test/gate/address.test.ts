import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { addressOf } from '../../api/http/limits/address.ts';

describe('the address that a request is counted under', () => {
  test('is the socket’s, whatever the request says, where no proxy is trusted', () => {
    expect(addressOf('192.0.2.1', '198.51.100.7', 0)).toBe('192.0.2.1');
    expect(addressOf(undefined, '198.51.100.7', 0)).toBeUndefined();
  });

  test('is what the outermost of the trusted proxies wrote, and nothing that stands before it', () => {
    expect(addressOf('10.0.0.1', '203.0.113.9, 198.51.100.7', 1)).toBe('198.51.100.7');
    expect(addressOf('10.0.0.1', '203.0.113.9, 198.51.100.7, 10.0.0.2', 2)).toBe('198.51.100.7');
  });

  test('is the socket’s where a trusted proxy wrote no address', () => {
    for (const written of [undefined, '', 'unknown', '198.51.100.7, nonsense'])
      expect(addressOf('10.0.0.1', written, 1)).toBe('10.0.0.1');
    expect(addressOf('10.0.0.1', '198.51.100.7', 2)).toBe('10.0.0.1');
  });

  test('is the /64 of an IPv6 address, however it is written', () => {
    const group = fc.integer({ min: 0, max: 0xffff });
    fc.assert(
      fc.property(fc.array(group, { minLength: 8, maxLength: 8 }), (groups) => {
        const long = groups.map((one) => one.toString(16).padStart(4, '0')).join(':');
        // The URL standard writes an IPv6 address in its shortest form.
        const short = new URL(`http://[${long}]`).hostname.slice(1, -1);
        const network = `${groups
          .slice(0, 4)
          .map((one) => one.toString(16))
          .join(':')}::/64`;
        expect(addressOf(long, undefined, 0)).toBe(network);
        expect(addressOf(short.toUpperCase(), undefined, 0)).toBe(network);
      }),
    );
    expect(addressOf('fe80::1%eth0', undefined, 0)).toBe('fe80:0:0:0::/64');
  });

  test('is the IPv4 address that an IPv6 socket has it in', () => {
    expect(addressOf('::ffff:192.0.2.1', undefined, 0)).toBe('192.0.2.1');
    expect(addressOf('2001:db8::192.0.2.1', undefined, 0)).toBe('2001:db8:0:0::/64');
  });
});
