/** The look of a printed order list. No sheet size is set: the printer's, A4 or Letter, holds. */
export const ORDER_STYLE = `
@page { margin: 14mm 13mm; }
* { box-sizing: border-box; }
body { font: 9.5pt/1.3 system-ui, "Liberation Sans", Arial, sans-serif; color: #111; max-width: 190mm; margin: 0 auto; padding: 4mm; }
h1 { font-size: 15pt; margin: 0 0 1mm; }
h2 { font-size: 10.5pt; margin: 0 0 1mm; }
header p { margin: 0 0 4mm; color: #444; }
table { width: 100%; border-collapse: collapse; table-layout: fixed; }
col.tick { width: 6.5mm; } col.no { width: 8.5mm; } col.code { width: 27mm; } col.colour { width: 31mm; }
col.quantity { width: 25mm; } col.price { width: 25mm; } col.sum { width: 17mm; }
thead { display: table-header-group; }
th, td { text-align: left; vertical-align: top; padding: 0.9mm 1.5mm; border-bottom: 0.2mm solid #bbb; overflow-wrap: anywhere; }
thead th { border-bottom: 0.5mm solid #111; font-size: 9pt; white-space: nowrap; }
tr { break-inside: avoid; }
.number, .amount { font-variant-numeric: tabular-nums; overflow-wrap: normal; }
.number { text-align: right; }
td.code { font-family: ui-monospace, "Liberation Mono", monospace; font-size: 8pt; }
.box { display: inline-block; width: 3.6mm; height: 3.6mm; border: 0.3mm solid #111; margin-top: 0.4mm; }
.notes { color: #555; font-size: 8.5pt; }
.sums { break-inside: avoid; }
.sums th { text-align: right; font-weight: normal; border-bottom: none; }
.sums td { border-bottom: none; }
.sums .total th, .sums .total td { font-weight: bold; border-top: 0.5mm solid #111; }
.cautions { margin-top: 6mm; padding: 2.5mm 3.5mm; border: 0.3mm solid #888; break-inside: avoid; font-size: 8.5pt; }
.cautions ul { margin: 0; padding-left: 4.5mm; }
@media print { body { max-width: none; padding: 0; } }
`;
