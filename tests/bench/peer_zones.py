"""numpy's version of zones.bench.ts: every make of surface weighed by the readings, drawn and judged in matrices."""
import numpy as np


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
    pairs = np.tril_indices(faults, -1)

    def weigh():
        """Every ground, and the log weights of all makes on it: bare, with one fault, with two."""
        grounds, logs, names = [], [], []
        for b in backgrounds:
            waves = seen[:, first_wave:first_fault] * b["deviations"]
            overlap = waves @ waves.T
            for size in b["sizes"]:
                lower = np.linalg.cholesky(covariance + size**2 * overlap)
                wide = np.linalg.solve(lower, np.column_stack([line, y, shapes]))
                level, basis = wide[:, 2], np.linalg.qr(wide[:, :2])
                q, r = basis
                rest = level - q @ (q.T @ level)
                log = -np.log(np.abs(np.diag(r))).sum() - rest @ rest / 2 - np.log(np.diag(lower)).sum()
                log += np.log(b["share"] / len(b["sizes"]))
                ground = len(grounds)
                grounds.append((b["deviations"], size, lower, wide))
                if not b["underFaults"]:
                    logs.append(np.array([log + counts[0]]))
                    names.append(np.array([[ground, -1, -1, 0]]))
                    continue
                f = wide[:, 3:3 + faults]
                f = f - q @ (q.T @ f)
                gram, pull = f.T @ f, f.T @ rest
                for k, s in enumerate(sizes):
                    p = 1 / s**2
                    a = np.diag(gram) + p
                    one = log + size_shares[k] + fault_shares + counts[1]
                    logs.append(one + (pull**2 / a - np.log(a / p)) / 2)
                    names.append(np.column_stack([
                        np.full(faults, ground), np.arange(faults), np.full(faults, -1), np.full(faults, k)
                    ]))
                    i, j = pairs
                    determinant = a[i] * a[j] - gram[i, j] ** 2
                    gain = pull[i] ** 2 * a[j] - 2 * pull[i] * pull[j] * gram[i, j] + pull[j] ** 2 * a[i]
                    two = log + size_shares[k] + np.log(2) + counts[2] + fault_shares[i] + fault_shares[j]
                    logs.append(two + (gain / determinant - np.log(determinant / p**2)) / 2)
                    names.append(np.column_stack([
                        np.full(len(i), ground), i, j, np.full(len(i), k)
                    ]))
        return grounds, np.concatenate(logs), np.concatenate(names)

    def run():
        rng = np.random.default_rng(1)
        grounds, logs, names = weigh()
        share = np.exp(logs - logs.max())
        reached = np.cumsum(share)
        at = np.searchsorted(reached, (np.arange(given["makes"]) + rng.random()) * reached[-1] / given["makes"])
        kept, often = np.unique(at, return_counts=True)
        ends = np.rint(np.cumsum(often) / often.sum() * count).astype(int)
        pv, rms, strehl, k = (np.empty(count) for _ in range(4))
        cuts = [round(0.025 * (count - 1)), round(0.975 * (count - 1))]
        known, start = {}, 0
        for name, end in zip(names[kept], ends):
            ground, one, two, size = name
            deviations, ground_size, lower, wide = grounds[ground]
            if ground not in known:
                waves = rows[:, first_wave:first_fault] * (deviations * ground_size)
                cross = np.linalg.solve(
                    lower, (seen[:, first_wave:first_fault] * (deviations * ground_size)) @ waves.T
                )
                left = waves @ waves.T - cross.T @ cross
                values, vectors = np.linalg.eigh(left)
                good = values > 1e-6 * left.diagonal().max()
                known[ground] = cross, (vectors[:, good] * np.sqrt(values[good])).T
            cross, loose = known[ground]
            extras = [e + g * faults for e in (one, two) if e >= 0 for g in range(3)]
            free = wide[:, [0, 1] + [3 + e for e in extras]]
            shown = rows[:, [0, 1] + [first_fault + e for e in extras]] - cross.T @ free
            precision = free.T @ free
            precision[range(2, len(precision)), range(2, len(precision))] += 1 / sizes[size] ** 2
            root = np.linalg.cholesky(precision)
            amounts = np.linalg.solve(precision, free.T @ wide[:, 2])
            middle = cross.T @ wide[:, 2] + shown @ amounts
            columns = np.vstack([loose, np.linalg.solve(root, shown.T)])
            m = end - start
            z = rng.standard_normal((m, len(columns)))
            z *= np.sqrt(dof / rng.chisquare(dof, m))[:, None]
            drawn = middle + z @ columns
            w = drawn[:, :-1]
            pv[start:end] = w.max(1) - w.min(1)
            rms[start:end] = np.sqrt((w * w) @ places)
            phase = turn * w
            strehl[start:end] = (np.cos(phase) @ places) ** 2 + (np.sin(phase) @ places) ** 2
            k[start:end] = drawn[:, -1]
            start = end
        told = []
        for x in (pv, rms, strehl, k):
            told += [x.mean(), x.std(), *np.partition(x, cuts)[cuts]]
        return told

    return run
