/** A disc that is a figure of revolution: its heights along one radius. */

/** One disc's heights along a radius, less the common curve, mm. */
export class DiscProfile {
  readonly radius: number;
  readonly rings: number;
  readonly rest: Float64Array;
  readonly loss: Float64Array;
  readonly squares: Float64Array;
  readonly #spread: number;
  readonly #mean: number;

  constructor(radius: number, rings: number) {
    this.radius = radius;
    this.rings = rings;
    this.rest = new Float64Array(rings);
    this.loss = new Float64Array(rings);
    this.squares = Float64Array.from(
      { length: rings },
      (_, i) => ((i + 0.5) * radius / rings) ** 2,
    );
    this.#mean = this.squares.reduce((sum, q, i) => sum + (2 * i + 1) * q, 0) / rings ** 2;
    this.#spread = this.squares.reduce(
      (sum, q, i) => sum + (2 * i + 1) * (q - this.#mean) ** 2,
      0,
    );
  }

  apply(): void {
    for (let i = 0; i < this.rings; i++) {
      this.rest[i] = (this.rest[i] as number) - (this.loss[i] as number);
    }
    this.loss.fill(0);
  }

  curvature(): number {
    let sum = 0;
    for (let i = 0; i < this.rings; i++) {
      sum += (2 * i + 1) * ((this.squares[i] as number) - this.#mean) * (this.rest[i] as number);
    }
    return sum / this.#spread;
  }

  add(curve: number): void {
    for (let i = 0; i < this.rings; i++) {
      this.rest[i] = (this.rest[i] as number) + curve * (this.squares[i] as number);
    }
  }

  zones(): { radius: number; heightUm: number }[] {
    const curve = this.curvature();
    const mean = this.rest.reduce((sum, h, i) => sum + (2 * i + 1) * h, 0) / this.rings ** 2;
    return Array.from(this.rest, (height, i) => {
      const square = this.squares[i] as number;
      const off = height - mean - curve * (square - this.#mean);
      return { radius: Math.sqrt(square), heightUm: off * 1000 };
    });
  }
}
