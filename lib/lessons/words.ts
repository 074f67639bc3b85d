/**
 * The words of the course, one a line: the word, its meaning in one sentence, and in brackets the ways it is written in
 * prose (`as`, without it the word itself) and the stages in which it means this (`in`, without it all of them).
 */
export const words = `
# the mirror and its curve
aperture = The width of the mirror that catches light, from rim to rim. [as aperture|apertures]
bevel = The narrow slanted rim of a disc, stoned on so that the glass does not chip. [as bevel|bevels]
blank = A flat disc of glass that has no curve yet. [as blanks]
tool = The second disc, against which the mirror is ground. [in prepare-discs grind-hollow correct-depth smooth-surface pour-lap shape-surface]
sphere = A hollow that is part of a ball, curved alike everywhere. [as sphere|spheres]
paraboloid = The hollow that brings the light of a star to one single point. [as paraboloid|paraboloids]
oblate = Flatter in the middle than a sphere: the opposite of what a paraboloid needs.
conic = One family of hollows, from oblate through sphere to paraboloid and beyond. [as conic|conics]
conic constant K = The number that says which conic it is: 0 is a sphere, −1 a paraboloid. [as conic constant]
chord = A straight line across a part of a circle, from rim to rim. [as chord|chords]
sagitta s = How deep the hollow is in its middle, measured from a chord. [as sagitta|sagittas]
radius of curvature R = How far the middle of the ball lies from the glass of the hollow. [as radius of curvature]
centre of curvature = The point at the distance R where a sphere sends its own light back together.
focal length f = How far from the mirror the image of a star stands: half of R. [as focal length|focal lengths]
focal ratio = The focal length divided by the aperture: 1200 mm by 150 mm is f/8.
cleat = A block of wood beside a disc that keeps it from sliding. [as cleats|cleat; in prepare-discs grind-hollow]
wedge = How much thicker a disc is on one side than on the other. [as wedge|wedged; in prepare-discs]
# grinding
abrasive = Hard grains that break small bits out of glass. [as abrasive|abrasives]
grade = The size of the grains, named by a letter and a number, as F80. [as grade|grades]
ds50 = The size that half of the grains of a jar are below. [as ds50|ds50Um]
charge = One helping of grains and water, ground until it falls silent. [as charge|charges; in prepare-discs grind-hollow measure-curve]
rough grinding = The work with the coarsest grade, which makes the hollow.
fine grinding = The work with finer and finer grades, which makes the hollow smooth.
ladder = The grades one after the other, from the coarsest jar to the finest. [in prepare-discs smooth-surface polish-surface]
overhang = How far the upper disc reaches beyond the lower one. [as overhang|overhangs]
stroke = One push of the upper disc and its way back. [as stroke|strokes; in grind-hollow measure-curve correct-depth smooth-surface pour-lap polish-surface shape-surface]
chord stroke = A stroke that runs beside the middle, off to one side. [as chord stroke|chord strokes]
pit = The tiny hole that a grain has broken out of the glass. [as pit|pits]
scratch = A long mark of one grain that was too large. [as scratch|scratches; in smooth-surface]
sludge = The wet mud of worn grains and glass. [in prepare-discs grind-hollow smooth-surface]
overshoot = How much deeper the hollow is than it should be.
log = The table of minutes, grains and positions, written at each pause. [in grind-hollow correct-depth smooth-surface polish-surface]
rate = How fast something goes: micrometres of depth or of glass in a minute or an hour. [in grind-hollow correct-depth smooth-surface polish-surface shape-surface]
forecast = The minute at which the depth will be right, told from the depths read so far. [as forecast|forecasts; in correct-depth]
# polishing
pitch = A thick tree or tar resin that splinters under a hammer and flows in an hour. [in pour-lap polish-surface shape-surface]
dam = The wall of tape round the tool that holds the hot pitch in. [in pour-lap]
rosin = The resin of trees that many pitches are made of.
slurry = Oxide in water, as thin as milk. [in pour-lap polish-surface shape-surface]
lap = The disc covered with pitch on which the mirror is polished. [as lap|laps]
facet = One square of the lap. [as facet|facets]
channel = The groove between two facets. [as channel|channels; in pour-lap]
cold pressing = Letting the lap rest under the mirror until it fits again. [as press cold|cold pressing|press; in pour-lap polish-surface shape-surface]
oxide = The fine powder that polishes, used wet on the lap: of cerium, or red rouge of iron.
polishing = Wearing the glass down so gently that no new pits are made.
polished out = Polished until the last pit is gone. [as polish out|polished out; in polish-surface judge-mirror]
figuring = Changing the shape of polished glass by tens of nanometres.
session = A few minutes of figuring, between two tests. [as session|sessions; in judge-mirror shape-surface]
# measuring
feeler leaf = A thin metal strip whose thickness is known. [as feeler leaves|feeler leaf|leaf|leaves; in open-record measure-curve weigh-readings correct-depth smooth-surface]
straight-edge = A bar with one edge that is truly straight.
spherometer = Three feet and a dial in their middle: it measures how deep a hollow is.
dial = A gauge with a pointer or digits that shows hundredths or thousandths of a millimetre.
calipers = Two jaws on a scale that measure thickness and width. [in prepare-discs]
loupe = A strong magnifying glass held close to the eye.
reading = One number taken from a gauge and written down at once. [as reading|readings]
scatter = How far readings of the same thing lie apart. [as scatter|spread; in weigh-readings measure-zones compare-class]
run = All openings of the mask read once, outward or inward. [as run|runs; in measure-zones judge-mirror shape-surface]
standard uncertainty u = How far off a value usually is; it stands after the ±. [as standard uncertainty|uncertainty|uncertainties]
interval = The stretch in which the true value lies, 95 times in a hundred. [as interval|intervals; in weigh-readings correct-depth judge-mirror]
Birge ratio = How far several methods lie apart, divided by how far they may: above 1 somebody is too sure.
set aside = Not counted, but still in the file with the reason beside it. [as set aside|struck through]
# testing
slit = The narrow gap before the lamp through which its light goes to the mirror. [as slit|slits]
returned image = The small picture of the lamp that the mirror sends back, beside the lamp itself.
tester = The lamp and the knife or grating with which the mirror is looked at from its centre of curvature.
Ronchi test = Looking at the mirror through a grating, so that it shows stripes.
Ronchigram = The picture of those stripes. [as Ronchigram|Ronchigrams]
grating = A film or glass with fine dark lines, evenly spaced.
band = One of the bright stripes that a grating makes. [as bands|band; in read-bands]
knife-edge = A blade pushed across the returning light, to see where rays cross. [as knife edge|knife-edge|knife]
zone = A ring of the mirror. [as zone|zones]
mask = A card with openings that let one zone at a time be seen. [in open-record weigh-readings read-bands measure-zones judge-mirror shape-surface]
seat = How the mirror stands in its stand: where its mark is turned to. [as seat|seats; in measure-zones judge-mirror shape-surface]
moving source = A lamp that travels with the knife; one that stays put doubles the reading. [as moving source|moving lamp]
profile = The height of the glass from its middle to its rim, drawn as a line. [in open-record measure-zones judge-mirror shape-surface]
slope = How fast a height changes from one place to the next. [as slope|slopes; in read-bands measure-zones]
surface error = How high the glass stands above the wanted shape, in nanometres.
wavefront = The shape of the light after the mirror: its errors are twice those of the glass. [as wavefront|wavefronts]
wave = One wavelength of green light, 550 nm here. [as waves|wave]
P-V = Peak to valley: from the highest point to the lowest. [as P-V|peak to valley]
RMS = Root mean square: the usual size of the error, all points of the mirror counted.
Strehl ratio = The share of a perfect star’s brightness that is left in the middle of its image. [as Strehl ratio|Strehl]
Airy disc = The small disc with rings that is the best image of a star an aperture can make.
astigmatism = Two different curves at right angles to each other, in one mirror or in one eye.
spherical aberration = The fault of a mirror whose zones focus at different distances.
turned edge = A rim that rolls away, lower than the wanted curve. [as turned edge|edge down]
goal = How good the surface must be, written down before it is tested.
verdict = Yes, no or not shown: whether the goal is met, with its probability. [as verdict|verdicts]
# the telescope
film = A layer of metal, a tenth of a thousandth of a millimetre thick. [in coat-mirror]
coating = The thin skin of metal that makes the polished glass shine. [as coating|coatings]
flat = The small flat mirror that sends the light out at the side of the tube. [as the flat|flats; in judge-mirror coat-mirror place-flat align-mirrors read-star]
offset = How far something sits off the centre. [in pour-lap place-flat]
obstruction = The share of the light that the flat takes away.
vignetting = The dimming towards the edge of what is seen.
fully lit field = The middle of the view, where no star is dimmed. [as fully lit field|fully lit]
focuser = The holder of the eyepiece that moves it in and out.
spider = The thin vanes that carry the flat in the middle of the tube. [in place-flat carry-weight]
finder = A small telescope beside the large one that shows where it points. [in carry-weight observe-sky]
drawtube = The part of the focuser that slides, with the eyepiece in it.
cell = The part that holds the mirror without bending it. [in place-flat carry-weight]
pivot = The line about which the tube tips. [in carry-weight]
bearing = The round part on which the tube turns. [as bearing|bearings; in carry-weight]
moment = A force times the arm it pulls on. [in carry-weight]
collimation = Bringing both mirrors onto one line.
coma = The tail of a star that stands off the axis.
arcminute = A sixtieth of a degree; the Moon is thirty of them wide. [as arcminute|arcminutes]
arcsecond = A sixtieth of an arcminute. [as arcsecond|arcseconds]
eyepiece = The small lens through which one looks at the image. [as eyepiece|eyepieces]
exit pupil = The width of the light as it leaves the eyepiece for the eye. [as exit pupil|exit pupils]
magnitude = How bright a star is: the larger the number, the fainter the star. [in observe-sky]
dioptre = The strength of spectacles: 1 divided by their focal length in metres. [as dioptre|dioptres]
seeing = How much the air shakes and blurs the image. [as the seeing; in read-star observe-sky]
first light = The first look through a new telescope.
# the kit
record = A folder with everything you wrote down about one mirror. [as record|records]
demo mirror = An invented mirror with a full record, shown where yours has no readings yet. [as demo mirror|demo’s|the demo]
`;
