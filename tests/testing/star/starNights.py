"""
Nights at an invented telescope with one, two or three faults at once, and what a learner says that the star shows.

    /usr/bin/python3 tests/testing/star/starNights.py

Reads lines, answers each by one line of JSON:

    night SEED ERR      a new telescope; ERR is the share of answers that the learner gets wrong
    act NAME            what is seen after that act, as {"saw": [...]}; mends stay, as they do on a real night
    truth               {"there": {cause: waves RMS}, "strongest": cause, "strehl": ...}

Every answer is read off pictures: a wave with its faults, frame after frame of air, is carried to both sides of focus by a
Fourier transform, and an eye with thresholds of its own looks at outlines, rings, light beside the rim and what changes.
Nothing here knows how often the kit thinks a sign comes with a cause.
"""

import json
import sys

import numpy as np

N, SIZE, DEFOCUS = 48, 128, 3.0
FRAMES = 24  # moments of one look
grid = (np.arange(N) + 0.5) * 2 / N - 1
X, Y = np.meshgrid(grid, grid)
RHO, THETA = np.hypot(X, Y), np.arctan2(Y, X)
pix = np.arange(SIZE) - SIZE // 2
PX, PY = np.meshgrid(pix, pix)
STEP = N / SIZE  # lambda / D between two places
RIM = 4 * DEFOCUS / STEP  # the disc's half width, places

# each from what an eye is said to tell, as ratios of what is seen
OVAL, CORNERS, ASIDE, WITHIN, WOOLLY, HAIRY, MOTTLED, DRAWN, BOILS, SAME_SIDE = 0.04, 0.04, 0.07, 0.25, 0.2, 0.08, 0.16, 0.1, 0.2, 0.75
# clearly less, gone or half as strong, degrees that an oval must move
LESS, HALF, MOVED = 0.85, 0.6, 30
# what whoever does it looks at
AIR = ("flat side", "wanders", "boils", "sharp and woolly")
ABOUT = {
    "high star": ("boils", "flat side"),
    "fan": AIR,
    "wait": AIR,
    "rim ring": ("rim",),
    "screws": ("to one side",),
    "clips": ("three corners",),
    "flat": ("oval",),
}


def soft(r, edge):
    return np.clip((edge - r) * N / 2 + 0.5, 0, 1)


def over(wave, open_):
    return (wave * open_).sum() / open_.sum()


ALL_PARTS = np.stack([np.ones_like(X), X, Y, RHO**2])


def calm(wave, open_, focus=True):
    """Without piston and tilt, and without focus where a hand turns it out."""
    parts = ALL_PARTS if focus else ALL_PARTS[:3]
    own = parts[:, open_ > 0] * open_[open_ > 0]
    fit = np.linalg.solve(own @ parts[:, open_ > 0].T, own @ wave[open_ > 0])
    return wave - np.tensordot(fit, parts, 1)


def unit(wave, open_):
    flat = calm(wave, open_)
    return flat / np.sqrt(over(flat**2, open_))


def turned(raw, open_):
    """A rim: the glass within it is what the eye focuses on."""
    return raw / np.sqrt(over(calm(raw, open_) ** 2, open_))


def screen(dice, power):
    f = np.fft.fftfreq(SIZE, 1 / SIZE) * N / SIZE
    k = np.hypot(*np.meshgrid(f, f))
    with np.errstate(divide="ignore"):
        amp = np.sqrt(np.where(k > 0, power(np.where(k > 0, k, 1.0)), 0))
    noise = dice.normal(size=k.shape) + 1j * dice.normal(size=k.shape)
    return np.fft.fft2(noise * amp).real[:N, :N]


CAUSES = [
    "turned edge", "mirror astigmatic", "mirror's curve", "rough glass", "pinched cell", "flat",
    "mirrors not aligned", "warm mirror", "air in the tube", "air above", "your eye",
]


class Night:
    def __init__(self, seed, err):
        d = self.dice = np.random.default_rng([77, seed])
        self.err = err
        self.hole = d.uniform(0.18, 0.28)
        self.open = soft(RHO, 1.0) * (1 - soft(RHO, self.hole))
        o = self.open
        count = int(d.choice([1, 2, 3], p=[0.2, 0.6, 0.2]))
        there = list(d.choice(CAUSES, size=count, replace=False))
        # what matters is there; of all else every telescope has a little
        self.amount = {c: d.uniform(0.08, 0.22) if c in there else abs(d.normal(0, 0.012)) for c in CAUSES}
        self.there = there
        way = d.uniform(0, 2 * np.pi, size=5)
        width = d.uniform(0.03, 0.08)
        self.shape = {
            "turned edge": -turned(np.exp((np.minimum(RHO, 1) - 1) / width), o),
            "mirror astigmatic": unit(RHO**2 * np.cos(2 * THETA - way[0]), o),
            "mirror's curve": d.choice([-1, 1]) * unit(RHO**4, o),
            "rough glass": unit(screen(d, lambda k: np.where((k > 5) & (k < 13), k**-1.0, 0)), o),
            "pinched cell": unit(RHO**3 * np.cos(3 * THETA - way[1]) + d.uniform(0, 0.35) * RHO**2 * np.cos(2 * THETA - way[2]), o),
            "flat": unit(RHO**2 * np.cos(2 * THETA - way[3]), o),
            "mirrors not aligned": unit((3 * RHO**3 - 2 * RHO) * np.cos(THETA - way[4]), o),
            "your eye": unit(RHO**2 * np.cos(2 * THETA - d.uniform(0, 2 * np.pi)), o),
            # a glass that cools bends at its rim; warm air lies over all of it
            "warm mirror": unit(RHO**4 - 0.5 * RHO**6, o),
        }
        self.share_still = d.uniform(0.35, 0.7)  # of a warm mirror's trouble that keeps still
        self.zenith = np.radians(d.uniform(35, 62))
        self.screens = [unit(screen(d, lambda k: k ** (-11 / 3)), o) for _ in range(40)]
        self.film = [unit(screen(d, lambda k: np.where(k < 5, k ** (-11 / 3), 0)), o) for _ in range(24)]
        self.layer = unit(0.5 * (1 + np.tanh((Y - 0.45) / 0.25)), o)
        self.done = set()
        self.before = None

    def frames(self, sides=(-DEFOCUS, DEFOCUS), count=FRAMES, ring=False, turned=0, head=0, scale=None):
        """Pictures of so many moments at those waves of defocus."""
        d, a = self.dice, dict(self.amount)
        scale = {**self.kept(), **(scale or {})}
        for c, s in scale.items():
            a[c] *= s
        o = soft(RHO, 0.9) * (1 - soft(RHO, self.hole)) if ring else self.open
        still = np.zeros_like(X)
        for c, shape in self.shape.items():
            quarter = turned if c in ("turned edge", "mirror astigmatic", "mirror's curve", "rough glass") else head if c == "your eye" else 0
            s = np.rot90(shape, quarter)
            still += a[c] * (self.share_still if c == "warm mirror" else 1) * s
        warm = a["warm mirror"] * np.sqrt(1 - self.share_still**2)
        r = d.permutation(len(self.screens))
        out, sway = [], d.normal()
        k = int(d.integers(len(self.film)))
        for n in range(count):
            sway = 0.8 * sway + 0.6 * d.normal()
            if n % 3 == 0:
                k = int(d.integers(len(self.film)))
            wave = still + a["air above"] * self.screens[r[n]]
            wave = wave + warm * self.film[k] + a["air in the tube"] * (0.8 + 0.6 * sway) * self.layer
            sharpest, wave = calm(wave, o), calm(wave, o, focus=False)
            row = []
            for w in sides:
                field = np.zeros((SIZE, SIZE), complex)
                field[:N, :N] = o * np.exp(2j * np.pi * (sharpest if w == 0 else wave + w * RHO**2))
                # outside focus the picture stands upright beside the pupil, inside upside down
                light = np.abs(np.fft.fftshift(np.fft.fft2(field))) ** 2
                row.append(light / (o.sum() ** 2 if w == 0 else (o.sum() * SIZE * SIZE / (np.pi * RIM**2))))
            out.append(row)
        return np.array(out)

    def kept(self):
        """What acts that stay have left of each fault."""
        left = {}
        if self.done & {"screws", "clips", "flat", "turn mirror"}:
            left["mirrors not aligned"] = 0.15
        if "clips" in self.done:
            left["pinched cell"] = 0.12
        if "flat" in self.done:
            left["flat"] = self.flat_left
        return left

    flat_left = 1.0

    @staticmethod
    def outline(light):
        """Harmonics 1 to 3 of a disc: how far out half of the light of each direction lies, over the mean."""
        light = np.maximum(light - 0.03 * light.max(), 0)
        cx, cy = (PX * light).sum() / light.sum(), (PY * light).sum() / light.sum()
        r, t = np.hypot(PX - cx, PY - cy), np.arctan2(PY - cy, PX - cx)
        whole = (light * r).sum() / light.sum()
        # a direction's mean distance, weighed as an outline is
        sector = ((t + np.pi) / (2 * np.pi) * 24).astype(int) % 24
        far = np.array([
            np.sqrt((light * r**2)[sector == s].sum() / max(light[sector == s].sum(), 1e-12)) for s in range(24)
        ])
        at = (np.arange(24) + 0.5) * 2 * np.pi / 24 - np.pi
        mean = far.mean()
        return [2 * (far * np.exp(1j * m * at)).mean() / mean for m in (1, 2, 3)], (cx, cy), whole

    @staticmethod
    def profile(light, centre):
        r = np.hypot(PX - centre[0], PY - centre[1]).astype(int)
        total = np.bincount(r.ravel(), light.ravel(), SIZE)[:60]
        return total / total.sum()

    def signs(self, frames):
        mean = frames.mean(axis=0)
        (i1, i2, i3), ci, _ = self.outline(mean[0])
        (o1, o2, o3), co, _ = self.outline(mean[1])
        oval = abs(o2 - i2) / 2 > OVAL and (i2 * np.conj(o2)).real < 0
        corners = min(abs(i3), abs(o3)) > CORNERS and (i3 * np.conj(o3)).real > 0
        aside = min(abs(i1), abs(o1)) > ASIDE and (i1 * np.conj(o1)).real > 0
        pi, po = self.profile(mean[0], ci), self.profile(mean[1], co)
        apart = np.abs(pi - po).sum() / 2
        inner, edge = int(RIM * 0.78), int(RIM * 1.12)
        beyond = abs(pi[edge:].sum() - po[edge:].sum())
        # a rim alone leaves the rings within as they were
        within = np.abs(pi[:inner] / pi[:inner].sum() - po[:inner] / po[:inner].sum()).sum() / 2
        woolly = within > WITHIN
        rim = (apart > WOOLLY or beyond > HAIRY) and within < 0.75 * apart
        # what keeps still and is fine: around the ring, without the low harmonics
        fine, change, sway, upright = [], [], [], []
        r, t = np.hypot(PX, PY), np.arctan2(PY, PX)
        ring = (r > 0.45 * RIM) & (r < 0.9 * RIM)
        where = ((t[ring] + np.pi) / (2 * np.pi) * 36).astype(int) % 36
        count = np.bincount(where, minlength=36)
        for side in (0, 1):
            around = np.array([np.bincount(where, f[side][ring], 36) / count for f in frames])
            around /= around.mean(axis=1, keepdims=True)
            spectrum = np.fft.rfft(around, axis=1) / 18
            still = np.abs(spectrum.mean(axis=0)[5:]) ** 2
            noise = spectrum[:, 5:].var(axis=0) / (len(frames) - 1)
            fine.append(np.sqrt(max(0, (still - noise).sum() / 2)))
            quick = np.diff(spectrum[:, 2:], axis=0)
            change.append(np.sqrt((np.abs(quick) ** 2).sum(axis=1).mean() / 4))
            # low and slow: how one side, or two, come and go
            sway.append(np.sqrt((np.abs(spectrum[:, 1:4] - spectrum[:, 1:4].mean(axis=0)) ** 2).sum(axis=1).mean()))
            # of it, how much is alike left and right of the tube's upper wall
            mirrored = around[:, (17 - np.arange(36)) % 36]
            both, other = (around + mirrored) / 2, (around - mirrored) / 2
            upright.append(both.var(axis=0).sum() / (both.var(axis=0) + other.var(axis=0)).sum())
        mottled = min(fine) > MOTTLED
        boils = min(change) > BOILS
        slow = min(sway) > DRAWN and not boils
        drawn = slow and min(upright) > SAME_SIDE
        wanders = slow and not drawn
        names = ["oval", "three corners", "to one side", "sharp and woolly", "rim", "mottled", "flat side", "wanders", "boils"]
        values = [abs(o2 - i2) / 2, min(abs(i3), abs(o3)), min(abs(i1), abs(o1)), within, max(0.0, apart - 0.75 * within), min(fine), min(sway), min(sway), min(change)]
        self.strength = dict(zip(names, values))
        self.axis = (o2 - i2) / 2
        return [n for n, s in zip(names, [oval, corners, aside, woolly, rim, mottled, drawn, wanders, boils]) if s]

    ALL = ["oval", "three corners", "to one side", "sharp and woolly", "rim", "mottled", "flat side", "wanders", "boils"]

    def act(self, name):
        d = self.dice
        if name in ("rack", "again"):
            saw = self.signs(self.frames())
            if d.uniform() < self.err:
                slip = str(d.choice(self.ALL))
                saw = [s for s in saw if s != slip] if slip in saw else saw + [slip]
            return saw or ["alike"]
        if name in ("head", "turn mirror"):
            self.signs(self.frames())
            first = self.axis
            if name == "turn mirror":
                self.done.add(name)
            moved = []
            for _ in range(3 if name == "head" else 1):
                self.signs(self.frames(turned=int(name == "turn mirror"), head=int(name == "head")))
                # an oval's direction is half of its angle; turned by a quarter it lies across
                moved.append(abs(np.degrees(np.angle(self.axis * np.conj(first)))) / 2)
            seen = abs(first) > OVAL and abs(self.axis) > OVAL / 2
            yes = bool(seen and min(moved) > MOVED)
            keys = ("turns", "stays")
        else:
            first = self.signs(self.frames())
            before, scale, ring = self.strength, {}, False
            if name == "high star":
                # the way through the air is shorter, and a tube that points elsewhere holds its air otherwise
                rms = (np.cos(self.zenith) / np.cos(np.radians(15))) ** 0.5
                scale = {"air above": rms, "air in the tube": d.uniform(0.6, 1.2)}
            elif name == "fan":
                scale = {"air in the tube": 0.25, "warm mirror": 0.45}
            elif name == "wait":
                scale = {"air in the tube": 0.25, "warm mirror": 0.12, "air above": float(np.exp(d.normal(0, 0.25)))}
            elif name == "rim ring":
                ring = True
            elif name == "flat":
                # a bent holder lets go; a bent flat does not
                self.flat_left = 0.12 if d.uniform() < 0.75 else 1.0
                self.done.add(name)
            else:
                self.done.add(name)
            self.signs(self.frames(ring=ring, scale=scale))
            # of what the act is about: whether anything that was seen is clearly weaker
            less = LESS if name == "high star" else HALF
            yes = any(s in first and self.strength[s] < less * before[s] for s in ABOUT[name])
            keys = ("better", "same")
        if d.uniform() < self.err:
            yes = not yes
        return [keys[0] if yes else keys[1]]

    def truth(self):
        return {
            "there": {c: round(self.amount[c], 3) for c in self.there},
            "strongest": max(self.there, key=lambda c: self.amount[c]),
        }


if __name__ == "__main__":
    night = None
    for line in sys.stdin:
        word, *rest = line.strip().split(" ", 1)
        if word == "night":
            seed, err = rest[0].split()
            night = Night(int(seed), float(err))
            answer = {}
        elif word == "act":
            answer = {"saw": night.act(rest[0])}
        else:
            answer = night.truth()
        print(json.dumps(answer), flush=True)
