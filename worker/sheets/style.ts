import type { Paper } from './paper.ts';

/** The look of a printed sheet. No paper size is set: the printer's, A4 or Letter, holds. */
export const STYLE = `
@page { margin: 14mm 13mm; }
* { box-sizing: border-box; }
body { font: 9.5pt/1.3 "Liberation Sans", Arial, Helvetica, sans-serif; color: #111; max-width: 190mm; margin: 0 auto; padding: 4mm; }
h1 { font-size: 15pt; margin: 0 0 1mm; }
h2 { font-size: 12.5pt; margin: 6mm 0 1.5mm; break-after: avoid; }
h3 { font-size: 10pt; margin: 4mm 0 0.8mm; break-after: avoid; }
p, ul { margin: 0 0 2mm; orphans: 3; widows: 3; }
ul { padding-left: 4.5mm; }
li { margin-bottom: 0.6mm; break-inside: avoid; }
table { width: 100%; border-collapse: collapse; margin: 0 0 3mm; }
thead { display: table-header-group; }
th, td { text-align: left; vertical-align: top; padding: 0.8mm 1.5mm; border-bottom: 0.2mm solid #bbb; }
.long { overflow-wrap: anywhere; }
.whole { white-space: nowrap; }
thead th { border-bottom: 0.5mm solid #111; font-size: 9pt; vertical-align: bottom; }
tr { break-inside: avoid; }
.short, .number { font-variant-numeric: tabular-nums; }
.number { text-align: right; white-space: nowrap; }
thead th.number { white-space: normal; }
.tick { width: 6.5mm; }
.box { display: inline-block; width: 3.6mm; height: 3.6mm; border: 0.3mm solid #111; margin-top: 0.4mm; }
.write { display: inline-block; height: 5.5mm; border: 0.3mm solid #111; }
.exact { border: 0.4mm solid #111; padding: 0 1mm; white-space: nowrap; font-weight: bold; }
.group th { background: #eee; border-top: 0.3mm solid #111; font-weight: bold; break-after: avoid; }
.group { break-after: avoid; }
.together { break-inside: avoid; }
.totalled tr:last-child td { font-weight: bold; border-top: 0.4mm solid #111; }
.sums { width: auto; margin-left: auto; break-inside: avoid; }
.sums th { text-align: right; font-weight: normal; }
.sums th, .sums td { border-bottom: none; padding-top: 0.4mm; padding-bottom: 0.4mm; }
.sums .total th, .sums .total td { font-weight: bold; border-top: 0.5mm solid #111; }
.small, .notes { color: #555; font-size: 8.5pt; }
.first h3 { margin-top: 3mm; }
.first td, .first th { padding-top: 0.4mm; padding-bottom: 0.4mm; }
.order .head { display: flex; gap: 8mm; margin-bottom: 2mm; }
.order .head > div { flex: 1; }
.order table { table-layout: fixed; }
.order td { overflow-wrap: anywhere; }
.order col.tick { width: 6.5mm; } .order col.no { width: 10mm; } .order col.code { width: 29mm; }
.order col.quantity { width: 40mm; } .order col.price { width: 26mm; } .order col.sum { width: 18mm; }
.order th.number { white-space: nowrap; }
.order td.code { font-family: ui-monospace, "Liberation Mono", monospace; font-size: 8pt; }
.order td.price { font-size: 8pt; color: #444; text-align: right; }
.order td.price .notes { font-size: 8pt; white-space: nowrap; }
.order td strong { white-space: nowrap; font-size: 9pt; }
.order table.sums { table-layout: auto; }
.cut td, .cut th { padding-top: 0.6mm; padding-bottom: 0.6mm; }
.page { break-before: page; }
.sheet > h1 + p + section.page { break-before: auto; }
.picture { display: block; max-width: 100%; height: auto; margin: 0 0 2mm; break-inside: avoid; font-family: inherit; }
@page labels { margin: 0; }
.labels { page: labels; position: relative; break-before: page; break-after: page; break-inside: avoid; }
.label { position: absolute; border: 0.1mm solid #999; }
.label .face { position: absolute; display: block; white-space: nowrap; align-content: center; }
.label i { position: absolute; top: 0; bottom: 0; border-left: 0.1mm dashed #555; }
@media print { body { max-width: none; padding: 0; }  h2:first-child { margin-top: 0; } }
`;

/**
 * The same for sheets: the foot of each page says the sheet and the page of how many, and the paper is as asked. `kind`: what
 * sheet it is, in words of this program's own.
 */
export function sheetStyle(kind: string, paper?: Paper): string {
  const size = paper === undefined ? '' : ` size: ${paper === 'a4' ? 'A4' : 'letter'};`;
  const foot = 'font: 8pt "Liberation Sans", Arial, Helvetica, sans-serif;';
  return `${STYLE}@page {${size} margin: 14mm 13mm 16mm;
  @bottom-left { content: "${kind}"; ${foot} }
  @bottom-right { content: "page " counter(page) " of " counter(pages); ${foot} } }
@page labels {${size} margin: 0; @bottom-left { content: none; } @bottom-right { content: none; } }
`;
}
