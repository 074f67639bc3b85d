"""numpy's and scipy's versions of ronchi.bench.ts: bands by diffraction, and the fit of a photograph of them."""
import numpy as np
import scipy.fft as sf
from scipy.optimize import least_squares


class Mirror:
    """A mirror before a grating with a slit lamp beside it: N samples to a row, the disc in the middle half of them."""

    def __init__(self, given):
        self.given, n = given, given["pixels"]
        self.half, self.radius, self.lines = given["half"], given["radius"], given["lines"]
        self.wavelength, self.N = given["wavelength"] * 1e-6, given["samples"]
        self.step = 2 * self.half / n
        self.u = (np.arange(n) - (n - 1) / 2) * self.step
        self.first = (self.N - n) // 2

    def screen(self, offset):
        """Light on the face: only the square that holds the disc is worked out."""
        x, y = self.u[None, :], self.u[::-1][:, None]
        r2 = x * x + y * y
        z = r2 / (self.radius * (1 + np.sqrt(1 - (1 + self.given["conic"]) * r2 / self.radius**2)))
        plane = self.radius + offset
        longer = r2 + z * z - 2 * plane * z
        path = 2 * longer / (np.sqrt(r2 + (plane - z) ** 2) + plane)
        chord = np.sqrt(np.maximum(0, self.half**2 - y * y))
        inside = np.clip((chord - np.abs(x)) / self.step + 0.5, 0, 1) # a sample that the rim cuts
        return inside * np.exp(2j * np.pi / self.wavelength * path)

    def grating(self, offset, shift):
        wide = self.wavelength * (self.radius + offset) * self.lines / (self.N * self.step)
        order = sf.fftfreq(self.N, 1 / self.N) * wide - shift * self.lines
        return np.clip((0.25 - np.abs(order - np.round(order))) / wide + 0.5, 0, 1)

    def through(self, field, offset, shift):
        """Rows only: the grating knows nothing of y. Each row is filled up with zeros to N."""
        rows = sf.ifft(sf.fft(field, n=self.N, axis=1) * self.grating(offset, shift), axis=1)[:, : field.shape[1]]
        return rows.real**2 + rows.imag**2

    def told(self, light):
        n = light.shape[0]
        return [light[n // 2, n // 2], light[n // 4, n // 2], light[n // 2 + 20, n // 4]]


def rows_from_scratch(given):
    """Path, phase, two transforms a row, brightness."""
    mirror, d = Mirror(given), given["offset"]
    return lambda: mirror.told(mirror.through(mirror.screen(d), d, given["shift"]))


def slider_rows(given):
    """The phase of the mirror is kept; a frame is its product with a lens, two transforms a row, brightness."""
    mirror, d = Mirror(given), given["offset"]
    still = mirror.screen(0.0)
    rim = mirror.radius + np.array([d, 0.0])
    r2, z = mirror.half**2, mirror.half**2 / (mirror.radius * (1 + np.sqrt(1 - (1 + given["conic"]) * (mirror.half / mirror.radius) ** 2)))
    legs = 2 * (r2 + z * z - 2 * rim * z) / (np.sqrt(r2 + (rim - z) ** 2) + rim)
    bend = 2 * np.pi / mirror.wavelength * (legs[0] - legs[1]) / r2

    def run():
        lens = np.exp(1j * bend * mirror.u**2)
        return mirror.told(mirror.through(still * lens, d, given["shift"]))

    return run


def slider_whole_plane(given):
    """The same without the trick of rows: transforms over the plane, as first written down."""
    mirror, d = Mirror(given), given["offset"]
    n, first = given["pixels"], mirror.first

    def run():
        field = np.zeros((mirror.N, mirror.N), complex)
        field[first : first + n, first : first + n] = mirror.screen(d)
        seen = sf.ifft2(sf.fft2(field) * mirror.grating(d, given["shift"])[None, :])[first : first + n, first : first + n]
        return mirror.told(seen.real**2 + seen.imag**2)

    return run


ORDERS = [1, -1, 3, -3, 5, -5]
OFFSET, PHASE, TURN, X, Y, RADIUS, LIGHT, FOG, POWER, SHARP, VEIL = 0, 1, 2, 3, 4, 5, 6, 16, 17, 18, 19


class Photo:
    """Brightness of a photograph's pixels and how it changes with all that is unknown, in whole arrays."""

    def __init__(self, given):
        self.g = given
        self.px, self.py = np.array(given["x"]), np.array(given["y"])
        self.value, self.noise = np.array(given["value"]), given["noise"]

    def waves(self, x, y, plane, conic):
        """Phase at places of the face, and its slopes by offset, conic and the square of the distance from the axis."""
        R, turns = self.g["radius"], 2e6 * np.pi / self.g["wavelength"]
        r2 = x * x + y * y
        u = r2 / R**2
        w = np.sqrt(1 - (1 + conic) * u)
        z = r2 / (R * (1 + w))
        to = np.sqrt(r2 + (plane - z) ** 2)
        path = 2 * (r2 + z * z - 2 * plane * z) / (to + plane)
        by_plane = -2 * r2 / (to * (to + plane - z))
        by_conic = -2 * (plane - z) / to * z * u / (2 * w * (1 + w))
        by_square = 1 / to - 2 * (plane - z) / to / (2 * R * w)
        return turns * path, turns * by_plane, turns * by_conic, turns * by_square

    def light(self, p, slopes):
        """The mirror's stripes, 1 = no grating; slopes by conic, offset, phase, sharpness, turn."""
        g, own = self.g, p[1:]
        half, turn, phase, sharp = g["half"], own[TURN], own[PHASE], own[SHARP]
        c, s = np.cos(turn), np.sin(turn)
        plane = g["radius"] + own[OFFSET]
        shear = g["wavelength"] * 1e-6 * plane * g["lines"]
        u, v = (self.px - own[X]) / own[RADIUS], -(self.py - own[Y]) / own[RADIUS]
        x, y = u * half, v * half
        soft = half / max(5, own[RADIUS])
        here, here_d, here_k, here_s = self.waves(x, y, plane, p[0])
        across, along = x * c + y * s, y * c - x * s
        chord = np.sqrt(np.maximum(0, half**2 - along**2))
        most = int((2 * half + shear) / shear)
        sums = np.concatenate([[0], np.cumsum([1 / (np.pi * m) ** 2 for m in range(1, most + 1, 2)])])

        wide = soft * half / (shear * np.maximum(chord, 0.1 * half))  # a rim that is crossed aslant

        def even(reach):
            k = np.maximum(0, np.floor((reach - wide / 2 + 1) / 2)).astype(int)
            m = 2 * k + 1
            part = np.clip((reach - m) / wide + 0.5, 0, 1)
            return sums[np.minimum(k, len(sums) - 1)] + part / (np.pi * m) ** 2

        light = 0.25 + even((chord - across) / shear) + even((chord + across) / shear)
        by = np.zeros((5, len(x)))
        for m in ORDERS:
            mx, my = x + m * shear * c, y + m * shear * s
            r = np.sqrt(mx * mx + my * my)
            inside = np.clip((half - r) / soft + 0.5, 0, 1)
            there, there_d, there_k, there_s = self.waves(mx, my, plane, p[0])
            bare = 2 * inside / (np.pi * m) ** 2
            strength = bare if m * m == 1 else bare * sharp
            # where an image's rim crosses the pixel, the part that it lights lies inward of the pixel's middle
            aside = 2 * (there_s * (mx * mx + my * my) - here_s * (x * mx + y * my))
            gap = there - here - m * phase - (1 - inside) * soft / (2 * half) * aside
            cos = np.cos(gap)
            light = light + strength * cos
            if not slopes:
                continue
            w = -strength * np.sin(gap)
            by[0] += w * (there_k - here_k)
            by[1] += w * (there_d - here_d)
            by[2] -= w * m
            if m * m > 1:
                by[3] += bare * cos
            by[4] += 2 * w * there_s * m * shear * (my * c - mx * s)
        return light, by, u, v

    def whole(self, p, slopes):
        own = p[1:]
        light, by, u, v = self.light(p, slopes)
        light = light + own[FOG]
        terms = np.array([np.ones_like(u), u, v, u * u, u * v, v * v, u**3, u * u * v, u * v * v, v**3])
        lamp = np.exp(own[LIGHT : LIGHT + 10] @ terms)
        every = np.maximum(1e-5, lamp * light + own[VEIL])
        value = every ** own[POWER]
        if not slopes:
            return value, None
        by_all = value * own[POWER] / every
        by_light = by_all * lamp
        J = np.zeros((len(u), 1 + len(own)))
        J[:, 0] = by_light * by[0]
        J[:, 1 + OFFSET], J[:, 1 + PHASE], J[:, 1 + SHARP] = by_light * by[1], by_light * by[2], by_light * by[3]
        J[:, 1 + LIGHT : 1 + LIGHT + 10] = (by_light * light * terms).T
        J[:, 1 + FOG], J[:, 1 + VEIL], J[:, 1 + POWER] = by_light, by_all, value * np.log(every)
        J[:, 1 + TURN] = by_light * by[4]
        return value, J


def photo_fit(given):
    """scipy's Levenberg and Marquardt with the same slopes, from the same start to the same fineness."""
    photo, free = Photo(given), np.array(given["free"])
    start, guess, u = np.array(given["start"]), np.array(given["guess"]), np.array(given["u"])
    held = (u < 1e29) & np.isin(np.arange(len(start)), free)

    def spread(q):
        p = start.copy()
        p[free] = q
        return p

    def residuals(q):
        p = spread(q)
        return np.concatenate([(photo.whole(p, False)[0] - photo.value) / photo.noise, ((p - guess) / u)[held]])

    def slopes(q):
        J = photo.whole(spread(q), True)[1] / photo.noise
        return np.vstack([J, np.diag(1 / u)[held]])[:, free]

    def run():
        found = least_squares(residuals, start[free], jac=slopes, method="lm", x_scale="jac", ftol=1e-5, xtol=1e-10, gtol=1e-10)
        p = spread(found.x)
        return [p[0], p[1 + OFFSET], p[1 + TURN], 2 * found.cost]

    return run
