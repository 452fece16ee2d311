import { problemsMarkdown } from '../../../api/problems/page.ts';

/** What docs/problems.md holds: the same words as the pages that the server shows at /problems. */
export function problemsPage(): string {
  return [
    '# Problems',
    'Every refusal of the API is a problem document (RFC 9457, `application/problem+json`). Its fields:',
    [
      '- `type`: the address of a page that explains this kind of problem; the server shows it without a key. Its last word is the kind, as below, and never changes. It starts with LOOMWRIGHT_PUBLIC_URL, or is a path where that is not set: a program compares what stands after `/problems/`.',
      '- `title` and `status`: the kind in words, and the status of HTTP.',
      '- `detail`: what happened this time and how to fix it.',
      '- `instance`: a name of this one occurrence. The log has it in the line of the request.',
      '- `requestId`: the X-Request-Id that you sent, or one that the server made; the same as `instance` then. Lines of the server and of the workers have it.',
      '- `findings`: for `not-valid`, every fault with its place: `at` is a JSON pointer into what you sent.',
    ].join('\n'),
    'By status:',
    problemsMarkdown(),
  ].join('\n\n');
}
