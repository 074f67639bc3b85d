// deno-lint-ignore-file no-console
/** Optics and zone kernels beside numpy, one sample each in turn, CPU time of one core; the goals are ratios. */
import process from "node:process";
import { traceRays } from "../../lib/optics/rayTrace.ts";
import { zernikeFitter } from "../../lib/optics/zernikeFit.ts";
import { matrix, product, solve, transpose } from "../../lib/testing/smallMatrix.ts";
import { throwReadings } from "../../lib/testing/throws.ts";
import { reduceZones } from "../../lib/testing/zones.ts";
import { hasNumpy, python } from "../machine.ts";
import { SPELL_2, zoneTest } from "../testing/story.ts";

/** One kernel: how it is made ready, and the peers it is held against (ratio of CPU medians, at most `goal`). */
export interface Kernel {
  readonly name: string;
  readonly prepare: () => () => number;
  readonly peers: readonly { readonly job: string; readonly goal: number }[];
}

function zoneThrows(): () => number {
  const radii = [20, 40, 55, 70, 82, 95].flatMap((r) => [r, r, r, r].map((v) => v / 100));
  const rows = matrix(24, 3, (i, j) => (radii[i] ?? 0) ** (2 * j)), turned = transpose(rows);
  const fit = solve(product(turned, rows), turned);
  const shapes = matrix(32, 3, (i, j) => (i / 31) ** (2 * j + 2) / (2 * j + 2));
  const noise = Float64Array.from(
    { length: 240_000 },
    (_, k) => 0.05 * Math.sin(k * 12.9898 + (0.001 * k * k) % 7),
  );
  return () => throwReadings(fit, shapes, noise).pv[7] ?? NaN;
}

function rays(): () => number {
  const n = 1_000_000,
    x = new Float64Array(n),
    y = new Float64Array(n),
    ox = new Float64Array(n),
    oy = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const r = 100 * Math.sqrt((i + 0.5) / n), t = i * 2.399963229728653;
    x[i] = r * Math.cos(t);
    y[i] = r * Math.sin(t);
  }
  const mirror = { radius: 2400, conic: -1, a4: 1e-13, a6: 1e-19 };
  return () => {
    traceRays(mirror, { x: 0.5, y: 0.2, z: 2400 }, 2401, x, y, ox, oy);
    return ox[12345] ?? NaN;
  };
}

function zernikeFit(): () => number {
  const size = 512, fitter = zernikeFitter(size), mask = new Uint8Array(size * size);
  const map = Float64Array.from({ length: size * size }, (_, k) => {
    const x = (2 * (k % size) + 1) / size - 1,
      y = (2 * Math.floor(k / size) + 1) / size - 1,
      q = x * x + y * y;
    mask[k] = q <= 1 ? 1 : 0;
    return 0.3 * x + 0.2 * q - 0.5 * q * q + 0.1 * x * y * q + 0.01 * Math.sin(40 * x + 13 * y * y);
  });
  return () => fitter.fit(map, mask)[3] ?? NaN;
}

/** The whole zone test has no peer: its time is told beside the others. */
function zoneTestWhole(): () => number {
  return () => reduceZones(zoneTest(SPELL_2)).wavefrontPv.value;
}

export const kernels: readonly Kernel[] = [
  {
    name: "10 000 zone throws",
    prepare: zoneThrows,
    peers: [{ job: "throws_operator", goal: 0.6 }],
  },
  { name: "1e6 rays", prepare: rays, peers: [{ job: "rays_whole", goal: 0.6 }] },
  {
    name: "Zernike fit 512 x 512",
    prepare: zernikeFit,
    peers: [{ job: "zernike_moments", goal: 1.3 }, { job: "zernike_lstsq", goal: 0.01 }],
  },
  { name: "zone test, 10 000 draws, whole", prepare: zoneTestWhole, peers: [] },
];

/** CPU milliseconds of one call; wall time where that is less (compiler threads tidy up beside it). */
function sample(work: () => number): { ms: number; result: number } {
  const cpu = process.cpuUsage(),
    wall = performance.now(),
    result = work(),
    spent = process.cpuUsage(cpu);
  return { ms: Math.min((spent.user + spent.system) / 1000, performance.now() - wall), result };
}

/** A numpy process kept alive that answers one job a line. */
class Peer {
  readonly #child = new Deno.Command(python, {
    args: [new URL("peer_optics.py", import.meta.url).pathname],
    env: { OPENBLAS_NUM_THREADS: "1" },
    stdin: "piped",
    stdout: "piped",
  }).spawn();
  readonly #writer = this.#child.stdin.getWriter();
  readonly #reader = this.#child.stdout.pipeThrough(new TextDecoderStream()).getReader();
  #rest = "";

  async run(job: string): Promise<{ ms: number; result: number }> {
    await this.#writer.write(new TextEncoder().encode(`${job}\n`));
    while (!this.#rest.includes("\n")) {
      const { value, done } = await this.#reader.read();
      if (done) throw new Error(`the numpy peer ended during ${job}`);
      this.#rest += value;
    }
    const end = this.#rest.indexOf("\n"), line = this.#rest.slice(0, end);
    this.#rest = this.#rest.slice(end + 1);
    return JSON.parse(line);
  }

  async close(): Promise<void> {
    await this.#writer.close();
    await this.#child.status;
  }
}

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[values.length >> 1] ?? NaN;

async function main(rounds = 11): Promise<void> {
  const peer = hasNumpy ? new Peer() : undefined;
  for (const kernel of kernels) {
    const run = kernel.prepare(),
      ours: number[] = [],
      theirs = kernel.peers.map((): number[] => []);
    for (let warm = 0; warm < 5; warm++) run();
    for (let round = 0; round < rounds; round++) {
      const own = sample(run);
      ours.push(own.ms);
      for (const [i, { job }] of kernel.peers.entries()) {
        if (peer === undefined || (job.endsWith("lstsq") && round > 2)) continue;
        const other = await peer.run(job);
        theirs[i]?.push(other.ms);
        const off = Math.abs(other.result - own.result);
        if (!(off <= 1e-9 * Math.max(1, Math.abs(own.result)))) {
          throw new Error(`${kernel.name} and ${job} differ by ${off}`);
        }
      }
    }
    console.log(
      `${kernel.name}: ${median(ours).toFixed(2)} ms (least ${Math.min(...ours).toFixed(2)})`,
    );
    kernel.peers.forEach(({ job, goal }, i) => {
      if (peer === undefined) return;
      const other = median(theirs[i] ?? []), ratio = median(ours) / other;
      console.log(
        `  ${job}: ${other.toFixed(2)} ms, ratio ${ratio.toFixed(3)}, goal ${goal}: ${
          ratio <= goal ? "met" : "missed"
        }`,
      );
    });
  }
  await peer?.close();
}

if (import.meta.main) await main();
