/** Grows the arrays of a mesh. Keeps each vertex's rest place too: clusters are cut there. */
export class Collector {
  private p = new Float32Array(3 * 65536);
  private n = new Float32Array(3 * 65536);
  private r = new Float32Array(3 * 65536);
  private i = new Uint32Array(3 * 65536);
  private s = new Uint8Array(65536);
  count = 0;
  private triangles = 0;

  vertex(p: ArrayLike<number>, n: ArrayLike<number>, rest: ArrayLike<number>, v: number): number {
    return this.put(
      p[3 * v]!,
      p[3 * v + 1]!,
      p[3 * v + 2]!,
      n[3 * v]!,
      n[3 * v + 1]!,
      n[3 * v + 2]!,
      rest[3 * v]!,
      rest[3 * v + 1]!,
      rest[3 * v + 2]!,
    );
  }

  put(
    x: number,
    y: number,
    z: number,
    nx: number,
    ny: number,
    nz: number,
    rx: number,
    ry: number,
    rz: number,
  ): number {
    const at = 3 * this.count;
    if (at + 3 > this.p.length) {
      this.p = doubled(this.p);
      this.n = doubled(this.n);
      this.r = doubled(this.r);
    }
    this.p[at] = x;
    this.p[at + 1] = y;
    this.p[at + 2] = z;
    this.n[at] = nx;
    this.n[at + 1] = ny;
    this.n[at + 2] = nz;
    this.r[at] = rx;
    this.r[at + 1] = ry;
    this.r[at + 2] = rz;
    return this.count++;
  }

  triangle(a: number, b: number, c: number, slot: number): void {
    const at = 3 * this.triangles;
    if (at + 3 > this.i.length) {
      const i = new Uint32Array(this.i.length * 2);
      i.set(this.i);
      this.i = i;
      const s = new Uint8Array(this.s.length * 2);
      s.set(this.s);
      this.s = s;
    }
    this.i[at] = a;
    this.i[at + 1] = b;
    this.i[at + 2] = c;
    this.s[this.triangles++] = slot;
  }

  finish() {
    return {
      positions: this.p.slice(0, 3 * this.count),
      normals: this.n.slice(0, 3 * this.count),
      rest: this.r.slice(0, 3 * this.count),
      indices: this.i.slice(0, 3 * this.triangles),
      material: this.s.slice(0, this.triangles),
    };
  }
}

const doubled = (a: Float32Array): Float32Array<ArrayBuffer> => {
  const b = new Float32Array(a.length * 2);
  b.set(a);
  return b;
};
