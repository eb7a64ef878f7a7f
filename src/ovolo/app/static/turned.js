// The part in three dimensions, drawn on a plain canvas: rings of its profile, lit from the upper left, nearest last.

const ROUND = 72;

export class Turned {
  constructor(canvas, exaggerate) {
    Object.assign(this, { canvas, exaggerate, yaw: -0.7, pitch: 0.35 });
    exaggerate.addEventListener("change", () => this.build());
    new ResizeObserver(() => this.draw()).observe(canvas);
    canvas.addEventListener("pointerdown", (event) => {
      canvas.setPointerCapture(event.pointerId);
      this.last = [event.clientX, event.clientY];
    });
    canvas.addEventListener("pointermove", (event) => {
      if (this.last) {
        this.turn((event.clientX - this.last[0]) * 0.01, (event.clientY - this.last[1]) * 0.01);
        this.last = [event.clientX, event.clientY];
      }
    });
    for (const name of ["pointerup", "pointercancel"])
      canvas.addEventListener(name, () => {
        this.last = null;
      });
    canvas.addEventListener("keydown", (event) => {
      const by = { ArrowLeft: [-0.15, 0], ArrowRight: [0.15, 0], ArrowUp: [0, -0.15], ArrowDown: [0, 0.15] }[event.key];
      if (by) {
        event.preventDefault();
        this.turn(...by);
      }
    });
    new MutationObserver(() => this.draw()).observe(document.documentElement, { attributes: true });
  }

  take(profile) {
    this.profile = profile;
    this.build();
  }

  turn(yaw, pitch) {
    this.yaw += yaw;
    this.pitch = Math.max(-1.5, Math.min(1.5, this.pitch + pitch));
    cancelAnimationFrame(this.frame);
    this.frame = requestAnimationFrame(() => this.draw());
  }

  /** Faces between neighbouring points of the profile, each a ring of quadrilaterals. */
  build() {
    if (!this.profile) return;
    const k = Number(this.exaggerate.value),
      points = this.profile.map(([z, r, dz, dr]) => [z + k * dz, Math.max(0, r + k * dr)]);
    const zs = points.map((p) => p[0]),
      least = Math.min(...zs),
      most = Math.max(...zs),
      wide = Math.max(...points.map((p) => p[1]));
    this.middle = (least + most) / 2;
    this.size = Math.hypot((most - least) / 2, wide);
    this.points = points;
    this.draw();
  }

  draw() {
    const { canvas, points } = this,
      wide = canvas.clientWidth,
      tall = canvas.clientHeight;
    if (!points || !wide || !tall) return;
    const dense = Math.min(devicePixelRatio || 1, 2),
      context = canvas.getContext("2d");
    canvas.width = wide * dense;
    canvas.height = tall * dense;
    context.setTransform(dense, 0, 0, dense, (wide / 2) * dense, (tall / 2) * dense);
    const scale = (Math.min(wide, tall) / 2 / this.size) * 0.94,
      style = getComputedStyle(document.documentElement);
    const [dark, light] = ["--ink", "--ground"].map((name) => channels(style.getPropertyValue(name).trim()));
    const night = document.documentElement.dataset.look === "dark";
    const faces = this.faces(scale).sort((a, b) => a.depth - b.depth);
    for (const face of faces) {
      const share = night ? 0.12 + 0.62 * face.light : 0.62 - 0.56 * face.light;
      const tone = light.map((ground, i) => Math.round(ground + (dark[i] - ground) * share)).join();
      context.fillStyle = context.strokeStyle = `rgb(${tone})`;
      context.lineWidth = 0.6;
      context.beginPath();
      face.corners.forEach(([x, y], i) => (i ? context.lineTo(x, y) : context.moveTo(x, y)));
      context.closePath();
      context.fill();
      context.stroke();
    }
  }

  faces(scale) {
    const cy = Math.cos(this.yaw),
      sy = Math.sin(this.yaw),
      cp = Math.cos(this.pitch),
      sp = Math.sin(this.pitch);
    const seen = (z, r, turn) => {
      const x = z - this.middle,
        y = r * Math.cos(turn),
        w = r * Math.sin(turn);
      const px = x * cy + w * sy,
        depth = -x * sy + w * cy;
      return [px * scale, -(y * cp - depth * sp) * scale, y * sp + depth * cp];
    };
    const found = [];
    for (let i = 0; i + 1 < this.points.length; i++) {
      const [a, b] = [this.points[i], this.points[i + 1]],
        run = [b[0] - a[0], b[1] - a[1]],
        size = Math.hypot(...run) || 1;
      const normal = [run[1] / size, -run[0] / size];
      for (let j = 0; j < ROUND; j++) {
        const t0 = (j / ROUND) * 2 * Math.PI,
          t1 = ((j + 1) / ROUND) * 2 * Math.PI,
          tm = (t0 + t1) / 2;
        const n = [normal[0], normal[1] * Math.cos(tm), normal[1] * Math.sin(tm)];
        const nx = n[0] * cy + n[2] * sy,
          nd = -n[0] * sy + n[2] * cy,
          ny = n[1] * cp - nd * sp,
          nz = n[1] * sp + nd * cp;
        if (nz <= 0) continue;
        const corners = [seen(...a, t0), seen(...b, t0), seen(...b, t1), seen(...a, t1)];
        found.push({
          corners,
          depth: (corners[0][2] + corners[2][2]) / 2,
          light: Math.max(0, -0.5 * nx + 0.62 * ny + 0.6 * nz),
        });
      }
    }
    return found;
  }

  save(title) {
    this.canvas.toBlob((blob) => {
      const link = document.createElement("a");
      link.href = URL.createObjectURL(blob);
      link.download = `${title.toLowerCase().replace(/[^a-z0-9]+/g, "-")}-turned.png`;
      link.click();
      setTimeout(() => URL.revokeObjectURL(link.href), 10000);
    }, "image/png");
  }
}

function channels(colour) {
  const hex = colour.replace("#", "");
  return [0, 2, 4].map((i) => parseInt(hex.slice(i, i + 2), 16));
}
