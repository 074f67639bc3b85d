/** Everyday words of lesson cards and headings: what a fourteen-year-old knows without a glossary. */
export const plainWords: ReadonlySet<string> = new Set(
  `about address after pair tiles do quarter quarters other again aligning all alone an and apart arrow as at back balance balances
  bands base be beams before bell bench bends between big blade both box break bring bucket
  buckets burns buy by can cannot cap card case caution cell centre check choice choose choosing
  circle clean clock coat coated colour compass cone cool copy costs cotton counts cross curve cut
  date day days deep depth desk digs disc discs does done down draw draws drill dry dust each easy
  edge edges eighth end ends enough error even evening expect eyes fails far fast faults feet few
  find finds finer finished firm first fit fitted five flat folded folder follow for from glance
  glass glasses go goes good grain grid grind had half hand hang hangs hard has have heavy hold
  hole hollow home honest hooked hot hours how if image in into is it its jars judges keep key
  kitchen know known label lamp larger largest last leader learn least left lens lesson let letter
  lies light line liquid list little longest look looking many mark marks may measure measured
  measurement measuring mend metal metals method methods micrometres middle millimetre millimetres
  minute minutes mirror mirror's mirrors more moves much name names near need neighbour's never
  new next no none not nothing now number of off old on one only open or out over own pack packing
  page paper parts patience pen pencil per perfect phone photograph place placing plan points
  polish polished pours powder powders pressed pressing print probability prove purpose put
  quantities quite radius read rear red repeating right ring rinsed round ruler run say scale
  scales scatter screws see sees seesaw sent several share sharpening shines shown sign six skin
  sky slant slide slow small smooth so soap soft sold sprayer squared stand stands star state
  stays step stick stone stool stop stray string stuck summary sun sun's sure surface swings table
  take takes tape target telescope tells ten test than that the their them then thermometer they
  thick thickness thing things third this thread three throw time times tissue to today today's
  tonight tools top torch trim tube turn two under understand up upper warm was water way ways
  weighing wet what when where whether which white whole whose wider width will with without word
  workshop would write writes yes you your yours yourself
  adult anybody are cm cold distilled firm's foam hands ones plain poured rim safe stiff there
  better class cover ffp mask safety too trained watch work
  sides spoils spoil fewest acts longer some photographs holder hour must diary sunset point
  any class everybody's leader's lie makers odd reads stay waits who whom
  away decision doubt high program shows zones
  care inside later moon night project set short something stored washed years
  behind changes cooling crater dark dusk faint fine jupiter order projects same finder focus
  soon marked ready steps below thermometers others go
  wait until tomorrow pouring build return`
    .split(/\s+/),
);
