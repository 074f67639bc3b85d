"""numpy's version of zones.bench.ts: every make of surface weighed by the readings, drawn and judged in matrices."""
import numpy as np

BLOCK = 2048  # draws judged at once: as many as the second memory holds


def posterior(given):
    """10,000 draws; mean, standard deviation and 95 % interval of P-V, RMS, Strehl and conic, nm."""
    seen, rows = np.array(given["seen"]), np.array(given["rows"])
    places, y = np.array(given["weights"]), np.array(given["y"])
    covariance = np.array(given["covariance"])
    first_wave, first_fault, faults = given["firstWave"], given["firstFault"], given["faults"]
    sizes, size_shares = np.array(given["sizes"]), np.log(given["sizeShares"])
    fault_shares, counts = np.log(given["faultShares"]), np.log(given["countShares"])
    backgrounds = [{**b, "deviations": np.array(b["deviations"])} for b in given["backgrounds"]]
    turn, dof, count = 2 * np.pi / given["wavelength"], given["dof"], given["count"]
    line, n = seen[:, :2], len(y)
    shapes = seen[:, first_fault:first_fault + 3 * faults]
    level = np.column_stack([line, y])
    pairs = np.tril_indices(faults, -1)
    cuts = [round(0.025 * (count - 1)), round(0.975 * (count - 1))]

    def weigh():
        """Every ground, and the log weights of all makes on it: bare, with one fault, with two, in every size."""
        grounds, logs = [], []
        i, j = pairs
        precision = 1 / sizes[:, None] ** 2
        for b in backgrounds:
            waves = seen[:, first_wave:first_fault] * b["deviations"]
            overlap = waves @ waves.T
            for size in b["sizes"]:
                lower = np.linalg.cholesky(covariance + size**2 * overlap)
                wide = np.linalg.solve(lower, np.column_stack([level, shapes]) if b["underFaults"] else level)
                q, r = np.linalg.qr(wide[:, :2])
                rest = wide[:, 2] - q @ (q.T @ wide[:, 2])
                log = -np.log(np.abs(np.diag(r))).sum() - rest @ rest / 2 - np.log(np.diag(lower)).sum()
                log += np.log(b["share"] / len(b["sizes"]))
                grounds.append((b, size, lower, wide))
                if not b["underFaults"]:
                    logs.append(np.array([log + counts[0]]))
                    continue
                f = wide[:, 3:3 + faults]
                f = f - q @ (q.T @ f)
                gram, pull = f.T @ f, f.T @ rest
                a = np.diag(gram) + precision
                one = counts[1] + fault_shares + (pull**2 / a - np.log(a / precision)) / 2
                first, second, product = a[:, i], a[:, j], gram[i, j]
                determinant = first * second - product**2
                gain = pull[i]**2 * second + pull[j]**2 * first - 2 * pull[i] * pull[j] * product
                two = np.log(2) + counts[2] + fault_shares[i] + fault_shares[j]
                two = two + (gain / determinant - np.log(determinant / precision**2)) / 2
                logs.append((log + size_shares[:, None] + np.hstack([one, two])).ravel())
        return grounds, logs

    def before(b):
        """A background of size 1 before any reading: with what is read, and with itself."""
        waves = rows[:, first_wave:first_fault] * b["deviations"]
        return (seen[:, first_wave:first_fault] * b["deviations"]) @ waves.T, waves @ waves.T

    def judge(w):
        """P-V, RMS, Strehl of each column."""
        phase = turn * w
        strehl = (places @ np.cos(phase)) ** 2 + (places @ np.sin(phase)) ** 2
        return w.max(0) - w.min(0), np.sqrt(places @ (w * w)), strehl

    def run():
        rng = np.random.default_rng(1)
        grounds, logs = weigh()
        starts = np.cumsum([0] + [len(block) for block in logs])
        logs = np.concatenate(logs)
        reached = np.cumsum(np.exp(logs - logs.max()))
        at = np.searchsorted(reached, (np.arange(given["makes"]) + rng.random()) * reached[-1] / given["makes"])
        kept, often = np.unique(at, return_counts=True)
        ends = np.rint(np.cumsum(often) / often.sum() * count).astype(int)
        unread, known, start = {}, {}, 0
        drawn = np.empty((len(rows), count))
        for make, ground, end in zip(kept, np.searchsorted(starts, kept, "right") - 1, ends):
            b, ground_size, lower, wide = grounds[ground]
            if ground not in known:
                if id(b) not in unread:
                    unread[id(b)] = before(b)
                cross, own = unread[id(b)]
                cross = np.linalg.solve(lower, cross * ground_size**2)
                left = own * ground_size**2 - cross.T @ cross
                values, vectors = np.linalg.eigh(left)
                good = values > 1e-6 * left.diagonal().max()
                known[ground] = cross, (vectors[:, good] * np.sqrt(values[good])).T
            cross, loose = known[ground]
            extras, size = [], 0
            if b["underFaults"]:
                size, which = divmod(make - starts[ground], faults + len(pairs[0]))
                two = [which] if which < faults else [side[which - faults] for side in pairs]
                extras = [e + g * faults for e in two for g in range(3)]
            free = wide[:, [0, 1] + [3 + e for e in extras]]
            shown = rows[:, [0, 1] + [first_fault + e for e in extras]] - cross.T @ free
            precision = free.T @ free
            precision[range(2, len(precision)), range(2, len(precision))] += 1 / sizes[size] ** 2
            root = np.linalg.cholesky(precision)
            open_ = np.linalg.solve(root, np.column_stack([free.T @ wide[:, 2], shown.T]))
            middle = cross.T @ wide[:, 2] + open_[:, 0] @ open_[:, 1:]
            columns = np.vstack([loose, open_[:, 1:]])
            z = rng.standard_normal((len(columns), end - start))
            z *= np.sqrt(dof / rng.chisquare(dof, end - start))
            drawn[:, start:end] = middle[:, None] + columns.T @ z
            start = end
        told = []
        judged = [judge(drawn[:-1, k:k + BLOCK]) for k in range(0, count, BLOCK)]
        for x in (*np.hstack(judged), drawn[-1]):
            told += [x.mean(), x.std(), *np.partition(x, cuts)[cuts]]
        return told

    return run
