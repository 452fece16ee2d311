/** How the price command is called: on a job file or a folder of tables. */
export const USAGE = `Prices a job file or a folder of tables: what to buy from which supplier, at the lowest delivered cost.

  npm run price -- FILE [--full | --json] [--sheets LIST] [--out DIR] [--paper PAPER]
                        [--build-or-buy] [--hour-worth AMOUNT]
  npm run price -- FILE --wins-at OFFER [--json]
  npm run price -- FOLDER [--preview] [--as-of DAY] [and the flags above]
  npm run price -- FILE --as-csv FOLDER
  npm run price -- --template FOLDER

  FILE               a job file (see examples/)
  FOLDER             a folder of tables as CSV: wires.csv, suppliers.csv, offers.csv and others (see docs/spreadsheets.md)

  --full             also prints the appendix: sums, settings, other ways to buy, the proof
  --json             prints the result as JSON instead of the quote
  --out DIR          also writes files into DIR: each sheet as text, as a page to print, as PDF and (but the quote) as CSV; all
                     sheets in one PDF; each order list by itself; the appendix; and result.json
  --sheets LIST      only these sheets, such as cutting,test. The sheets are quote, orders, cutting, labels, build, test.
                     Without --out it prints them as text instead of the quote
  --paper PAPER      of the files: a4 or letter. Without it PDFs are for A4, and pages take the printer's paper
  --wins-at OFFER    prints instead the price at which this one offer is bought
  --build-or-buy     also says whether it is cheaper to build the looms or to buy them made, if made-up looms are entered
  --hour-worth AMOUNT
                     the same, with an hour of your work counted at this, such as 12 or 0
  --preview          of a folder: reads it, says what to fix and what was filled in, and prices nothing
  --as-of DAY        of a folder: the day for which prices are judged, such as 2026-11-02. Without it the day in about.csv
                     counts; without that, today
  --as-csv FOLDER    writes a job file, or another folder, as a folder of tables
  --template FOLDER  writes empty tables, each with an explanation and an example
  --help             prints this

The exit code is one of these:

  0  priced; needs that are not sourced are warned of. Or previewed, or written as tables
  1  the command itself failed
  2  not priced, or not written: the file or a table has faults, or the command was called wrongly
  3  priced, but something must be fixed first: each such fault begins with STOP
`;
