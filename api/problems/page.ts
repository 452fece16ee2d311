import { PROBLEM_KINDS, problemPath, statusOf, titleOf, type ProblemKind } from '../http/problem.ts';
import { lined, markup, ours, type Html } from '../../worker/sheets/html.ts';
import { PROBLEM_WORDS, type ProblemWords } from './words.ts';

const STYLE = `body{font:16px/1.5 system-ui,sans-serif;max-width:42rem;margin:2rem auto;padding:0 1rem}code,pre{background:#f2f2f2}pre{padding:.5rem;white-space:pre-wrap}`;

/** The page of one kind of problem. */
export function problemHtml(kind: ProblemKind): string {
  const { what, why, todo }: ProblemWords = PROBLEM_WORDS[kind];
  return page(
    `${titleOf(kind)} (${statusOf(kind)})`,
    lined([
      markup`<p>${coded(what)}</p>`,
      markup`<h2>Why</h2><p>${coded(why)}</p>`,
      markup`<h2>What to do</h2><p>${coded(todo)}</p>`,
      markup`<h2>Example</h2><pre>${exampleOf(kind)}</pre>`,
      markup`<p><a href="/problems">All kinds of problem</a></p>`,
    ]),
  );
}

/** The list of all kinds of problem. */
export function problemsHtml(): string {
  const items = PROBLEM_KINDS.map((kind) => {
    const link = markup`<a href="${problemPath(kind)}">${titleOf(kind)}</a>`;
    return markup`<li>${statusOf(kind)} ${link}: ${coded(PROBLEM_WORDS[kind].what)}</li>`;
  });
  return page('Problems', markup`<ul>${lined(items)}</ul>`);
}

/** The same kinds, as docs/problems.md has them. */
export function problemsMarkdown(): string {
  const sections = PROBLEM_KINDS.map((kind) => {
    const { what, why, todo }: ProblemWords = PROBLEM_WORDS[kind];
    return [
      `## ${titleOf(kind)}`,
      `\`${kind}\`, status ${statusOf(kind)}. ${what}`,
      `**Why.** ${why}`,
      `**What to do.** ${todo}`,
      `\`\`\`json\n${exampleOf(kind)}\n\`\`\``,
    ].join('\n\n');
  });
  return `${sections.join('\n\n')}\n`;
}

function exampleOf(kind: ProblemKind): string {
  const id = '01a213a1-9f75-7282-ab0e-171a66b0be74';
  const example = {
    type: problemPath(kind),
    title: titleOf(kind),
    status: statusOf(kind),
    detail: PROBLEM_WORDS[kind].example,
    instance: `urn:uuid:${id}`,
    requestId: id,
  };
  return JSON.stringify(example, null, 2);
}

/** What stands between backquotes is code. */
function coded(text: string): Html[] {
  return text
    .split('`')
    .map((piece, at) => (at % 2 === 0 ? markup`${piece}` : markup`<code>${piece}</code>`));
}

function page(title: string, content: Html): string {
  const head = markup`<meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>${title}: Loomwright</title><style>${ours(STYLE)}</style>`;
  const whole = markup`<!doctype html>
<html lang="en"><head>${head}</head>
<body><h1>${title}</h1>
${content}
</body></html>`;
  return `${whole.toString()}\n`;
}
