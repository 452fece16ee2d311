import type { OfferInput, PartInput, Tractor, WireInput } from './tractor.ts';

/** Something that a restorer may get wrong in the notebook, in the catalogue or in a price list. */
export interface Slip {
  name: string;
  plant: (job: Tractor) => void;
  /** What is found, and nothing else: code and subject. */
  found: string[];
  /** Planted at a place of another slip, so that the two cannot stand in one loom. */
  alone?: true;
}

type Terminal = Extract<PartInput, { kind: 'terminal' }>;

const wireOf = (job: Tractor, id: string): WireInput => one(job.looms[0].wires, (wire) => wire.id === id);
const pointOf = (job: Tractor, id: string) => one(job.looms[0].points, (point) => point.id === id);
const partOf = <P extends PartInput>(job: Tractor, code: string) =>
  one(job.parts, (part) => part.code === code) as P;
const offerOf = (job: Tractor, code: string): OfferInput => one(job.offers, (offer) => offer.code === code);

function one<T>(list: readonly T[], is: (item: T) => boolean): T {
  const found = list.find(is);
  if (found === undefined) throw new Error('the tractor has nothing of that name');
  return found;
}

/** A part like another, with a code of its own, sold by one shop. */
function also(job: Tractor, like: string, code: string, more: object, offer: object): void {
  job.parts.push({ ...partOf(job, like), code, ...more });
  const sold = offerOf(job, `orchard-${like}`);
  job.offers.push({ ...sold, code: `orchard-${code}`, part: code, ...offer } as OfferInput);
}

const gbp = (amount: string) => ({ amount, currency: 'GBP' });

export const SLIPS: readonly Slip[] = [
  {
    name: 'a 35 A fuse as the part in a line holder, before a wire for 8.75 A',
    plant: (job) => {
      also(job, 'holder-8', 'holder-35', { ratedAmps: 35 }, {});
      pointOf(job, 'horn-fuse').part = 'holder-35';
    },
    found: ['fuse-too-big wire:4'],
  },
  {
    name: 'a 35 A fuse stated on the wire that feeds a holder',
    plant: (job) => {
      also(job, 'holder-8', 'holder-bare', { ratedAmps: undefined, fuseBasis: undefined }, {});
      pointOf(job, 'lamp-fuse').part = 'holder-bare';
      wireOf(job, '2').fuse = { ratingAmps: 35, basis: 'blow' };
    },
    found: ['fuse-too-big wire:5'],
  },
  {
    name: 'a current on a wire whose cable nobody rates',
    plant: (job) => {
      also(job, 'blue-14', 'blue-own', { cableType: 'own-cable', resistanceMilliohmPerM: 18.9 }, {});
      wireOf(job, '10').cableType = 'own-cable';
    },
    found: ['rating-unknown wire:10'],
  },
  {
    name: 'a current on such a wire that no copper of its size carries',
    plant: (job) => {
      also(job, 'black-14', 'black-own', { cableType: 'own-cable', resistanceMilliohmPerM: 18.9 }, {});
      const wire = wireOf(job, '11');
      wire.cableType = 'own-cable';
      wire.amps = 30;
    },
    found: ['wire-overloaded wire:11'],
  },
  {
    name: 'a load that hangs on the battery without a fuse',
    plant: (job) => {
      job.looms[0].points.push({ id: 'work-lamp', kind: 'device', label: 'Work lamp', pins: ['1'] });
      job.looms[0].wires.push({
        ...wireOf(job, '3'),
        id: '13',
        colour: { base: 'white' },
        to: {
          point: 'work-lamp',
          way: '1',
          join: 'crimp',
          terminal: { part: 'blade' },
          cover: { part: 'blade-cover' },
        },
      });
    },
    found: ['no-fuse circuit:tractor/1'],
  },
  {
    name: 'a fuse noted on a wire that ends at no holder',
    plant: (job) => {
      wireOf(job, '6').fuse = { ratingAmps: 5, basis: 'continuous' };
    },
    found: ['fuse-without-holder wire:6'],
  },
  {
    name: 'wires that state another fuse than the holder holds',
    plant: (job) => {
      wireOf(job, '5').fuse = { ratingAmps: 10, basis: 'blow' };
    },
    found: ['fuse-differs point:lamp-fuse'],
    alone: true,
  },
  {
    name: 'a fuse marked by what it carries on the wire, and by what blows it in the catalogue',
    plant: (job) => {
      wireOf(job, '4').fuse = { ratingAmps: 15, basis: 'continuous' };
    },
    // Carried for good, 15 A is more than the wire may have.
    found: ['fuse-basis-differs point:horn-fuse', 'fuse-too-big wire:4'],
    alone: true,
  },
  {
    name: 'heat-shrink as wide as what it goes over, and no wider',
    plant: (job) => {
      also(
        job,
        'red-14',
        'red-fat',
        { cableType: 'fat', outsideDiameterMm: 6.4, ratedAmps: 8.75, resistanceMilliohmPerM: 18.9 },
        {},
      );
      const wire = wireOf(job, '9');
      wire.cableType = 'fat';
      wire.via = ['tail'];
      job.looms[0].branches.push({ id: 'tail', from: 'side-block', to: 'lamp-rear', lengthMm: 1900 });
      job.looms[0].coverings.push({ id: 'shrink', kind: 'heatShrink', part: 'shrink-64', over: ['tail'] });
    },
    found: ['covering-too-tight covering:shrink'],
  },
  {
    name: 'different covers over one terminal that two ends share',
    plant: (job) => {
      job.parts.push({
        kind: 'cover',
        code: 'blade-cover-red',
        description: 'Red cover',
        coverType: 'terminalCover',
      });
      job.offers.push({
        form: 'pack',
        code: 'orchard-blade-cover-red',
        supplier: 'orchard',
        part: 'blade-cover-red',
        packCount: 10,
        packPrice: gbp('0.90'),
      });
      const [six, ten] = [wireOf(job, '6').from, wireOf(job, '10').from];
      ten.way = 'S';
      ten.sharesTerminal = 'lamps';
      six.sharesTerminal = 'lamps';
      ten.cover = { part: 'blade-cover-red' };
      wireOf(job, '6').circuit = 'plough';
      for (const id of ['7', '8', '9']) wireOf(job, id).circuit = 'plough';
    },
    found: ['covers-differ wire:6:from'],
  },
  {
    name: 'a cheaper stand-in for a pin that does not take the wire',
    plant: (job) =>
      also(
        job,
        'ring-6-big',
        'ring-6-thin',
        { wireMaxMm2: 1.5, wireMinMm2: 0.5, standsInFor: [{ part: 'ring-6-big', confirmedBy: 'A member' }] },
        { packPrice: gbp('0.10') },
      ),
    found: ['stand-in-does-not-fit part:ring-6-thin'],
  },
  {
    name: 'another family whose plug has a way too few',
    plant: (job) => {
      for (const [own, instead, more] of [
        ['plough-plug', 'drizzle-plug', { ways: 1 }],
        ['plough-pin', 'drizzle-pin', {}],
        ['plough-seal', 'drizzle-seal', {}],
      ] as const)
        also(
          job,
          own,
          instead,
          { ...more, family: 'drizzle', standsInFor: [{ part: own, confirmedBy: 'A member' }] },
          { packPrice: gbp('0.10') },
        );
    },
    found: ['stand-in-does-not-fit part:drizzle-pin'],
  },
  {
    name: 'a ring for 8 mm among those for 6 mm on one stud',
    plant: (job) => {
      also(job, 'ring-6', 'ring-8-small', { sizeMm: 8.4 }, {});
      wireOf(job, '12').to.terminal = { part: 'ring-8-small' };
    },
    found: ['rings-differ point:earth'],
  },
  {
    name: 'a ring with a hole too small for its stud',
    plant: (job) => {
      pointOf(job, 'battery').studMm = 10;
    },
    found: ['ring-too-small wire:1:from'],
  },
  {
    name: 'a wire written down twice',
    plant: (job) => {
      job.looms[0].wires.push({ ...wireOf(job, '12'), id: '12b' });
    },
    found: ['wire-entered-twice wires:12,12b'],
  },
  {
    name: 'a length with a nought too many',
    plant: (job) => {
      wireOf(job, '8').length = { mm: 14800, basis: 'sheathToSheath', measured: 'oldLoom' };
    },
    found: ['wire-length-doubtful wire:8'],
  },
  {
    name: 'a price with the point one place to the left',
    plant: (job) => {
      const offer = offerOf(job, 'orchard-joiner-4');
      if (offer.form === 'pack') offer.packPrice = gbp('0.12');
    },
    found: ['price-unlike-others offer:orchard-joiner-4'],
  },
  {
    name: 'a pack at a tenth of what the seller asks for another',
    plant: (job) => {
      const sold = offerOf(job, 'orchard-tie');
      job.offers.push({
        ...sold,
        code: 'orchard-tie-100',
        packCount: 100,
        packPrice: gbp('0.32'),
      } as OfferInput);
      job.offers = job.offers.filter(({ code }) => code !== 'millrace-tie' && code !== 'tannery-tie');
    },
    found: ['price-unlike-own-pack offer:orchard-tie-100'],
  },
  {
    name: 'clips noted along the branch and again in the list of parts',
    plant: (job) => {
      job.looms[0].parts.push({ part: 'clip-10', quantity: 1 });
    },
    found: ['part-counted-twice part:clip-10'],
  },
  {
    name: 'a live blade without the cover that all others have',
    plant: (job) => {
      delete wireOf(job, '9').to.cover;
    },
    found: ['terminals-uncovered loom:tractor'],
  },
  {
    name: 'a diode the wrong way round',
    plant: (job) => {
      job.looms[0].points.push({
        id: 'spike',
        kind: 'device',
        part: 'diode',
        label: 'Diode before the horn',
        supply: 'buy',
      });
      job.offers.push({
        form: 'pack',
        code: 'orchard-diode',
        supplier: 'orchard',
        part: 'diode',
        packCount: 1,
        packPrice: gbp('0.30'),
      });
      const horn = wireOf(job, '4');
      const to = horn.to;
      horn.to = { ...to, point: 'spike', way: 'K' };
      job.looms[0].wires.push({ ...horn, id: '4b', from: { ...to, point: 'spike', way: 'A' }, to });
    },
    found: ['wrong-way-round point:spike'],
  },
  {
    name: 'an option that nothing in the loom depends on',
    plant: (job) => {
      job.looms[0].options = ['overdrive'];
    },
    found: ['option-without-effect option:overdrive'],
  },
  {
    name: 'a terminal for thinner wire than goes into it',
    plant: (job) => {
      partOf<Terminal>(job, 'ring-8').wireMaxMm2 = 2.5;
    },
    found: ['terminal-range wire:1:from'],
  },
];
