// The picture of the piece: one canvas, drawn only when something changed.
import {
  BufferGeometry,
  Color,
  Float32BufferAttribute,
  LineBasicMaterial,
  LineSegments,
  PerspectiveCamera,
  Plane,
  Scene,
  Vector3,
} from "three";
import { OrbitControls } from "three/addons/controls/OrbitControls.js";
import { type As, coloursOf } from "./colours";
import { Drawn } from "./drawn";
import { Painter } from "./painter";
import { pick } from "./pick";
import type { Picked, PickKind } from "./places";
import { boxAround, type SceneBody, type Triple } from "./shapes";
import { bandOf } from "./shares";

export interface Look {
  chosen: ReadonlySet<string>;
  fault: ReadonlySet<string>;
  hover: string | null;
  /** What each board bears of its limit, to be painted by it; null: painted as wood. */
  shares: ReadonlyMap<string, number> | null;
  /** Bodies that stand elsewhere than they do. */
  offsets: ReadonlyMap<string, Triple>;
  /** Bodies drawn whole, the others as thin outlines; null: all. */
  only: ReadonlySet<string> | null;
  /** Where it is cut open: across an axis, 0 to 1 of the piece. */
  cut: { axis: 0 | 1 | 2; at: number } | null;
  /** World points to mark with a cross. */
  marks: Triple[];
  /** Lines to draw over the piece, in pairs of ends: dimensions. */
  lines: Triple[];
}

export type Side = "corner" | "front" | "right" | "top" | "back" | "left";

const still: Triple = [0, 0, 0];

const sides: Record<Side, Triple> = {
  corner: [0.62, -1, 0.52],
  front: [0, -1, 0.0001],
  back: [0, 1, 0.0001],
  right: [1, 0, 0.0001],
  left: [-1, 0, 0.0001],
  top: [0, -0.0002, 1],
};

export interface Viewer {
  bodies(list: SceneBody[]): void;
  look(look: Look): void;
  side(side: Side): void;
  fit(): void;
  /** Fits again, unless it was turned or moved by hand. */
  refit(room: number): void;
  turn(right: number, up: number): void;
  nearer(factor: number): void;
  pick(x: number, y: number, kind: PickKind): Picked | null;
  /** Where a world point lies on the canvas, in CSS pixels. */
  project(p: Triple): { x: number; y: number };
  recolour(): void;
  onDraw(then: () => void): void;
  /** A change is on its way: see Painter. */
  postpone(): void;
  dispose(): void;
}

export function createViewer(canvas: HTMLCanvasElement): Viewer {
  const scene = new Scene();
  const camera = new PerspectiveCamera(26, 1, 10, 100000);
  camera.up.set(0, 0, 1);
  const controls = new OrbitControls(camera, canvas);
  controls.enableDamping = false;
  controls.zoomToCursor = true;
  const painter = new Painter(canvas, scene, camera);
  let colours = coloursOf(canvas);
  painter.ground(colours.sheet);
  const drawn = new Drawn(colours);
  const overlay = linesOf(colours.mark);
  overlay.renderOrder = 2;
  overlay.material.depthTest = false;
  const floor = linesOf(colours.grid);
  scene.add(floor, drawn.solid, drawn.inside, drawn.lines, overlay);

  let look: Look | null = null;
  let facing: Triple = sides.corner;
  let frames = 0;
  let waiting = 0;
  let fitted = false;
  let untouched = true;
  let held = false; // by a pointer; a click alone turns nothing
  let room = 1;
  const drawnNow: (() => void)[] = [];

  const draw = () => {
    waiting = 0;
    painter.paint();
    canvas.dataset["frames"] = String(++frames);
    for (const then of drawnNow) then();
  };
  const soon = () => {
    if (!waiting) waiting = requestAnimationFrame(draw);
  };
  const resize = new ResizeObserver(() => {
    const { clientWidth: w, clientHeight: h } = canvas;
    if (!w || !h) return;
    painter.resize(w, h);
    camera.aspect = w / h;
    camera.updateProjectionMatrix();
    if (untouched) fit();
    soon();
  });
  resize.observe(canvas);
  controls.addEventListener("start", () => (held = true));
  controls.addEventListener("end", () => (held = false));
  controls.addEventListener("change", () => {
    if (held) untouched = false;
    soon();
  });

  const whole = () => boxAround(drawn.bodies.map(({ body }) => body));
  const wholeMoved = () =>
    boxAround(
      drawn.bodies.map(({ body: { id, low, high } }) => {
        const by = look?.offsets.get(id) ?? still;
        return { low: low.map((v, k) => v + by[k]!), high: high.map((v, k) => v + by[k]!) };
      }),
    );

  function fit(): void {
    const box = wholeMoved() ?? { low: [-400, -400, 0] as Triple, high: [400, 400, 700] as Triple };
    const low = new Vector3(...box.low);
    const high = new Vector3(...box.high);
    const middle = low.clone().add(high).multiplyScalar(0.5);
    const radius = Math.max(low.distanceTo(high) / 2, 20) * room;
    const half = (camera.fov / 2) * (Math.PI / 180);
    const narrow = Math.min(half, Math.atan(Math.tan(half) * camera.aspect));
    const distance = (radius / Math.sin(narrow)) * 0.92;
    camera.position.copy(middle).addScaledVector(new Vector3(...facing).normalize(), distance);
    controls.target.copy(middle);
    camera.near = Math.max(1, radius / 200);
    camera.far = distance + radius * 40;
    camera.updateProjectionMatrix();
    controls.update();
    soon();
  }

  function layFloor(): void {
    const box = whole();
    const ends: number[] = [];
    if (box) {
      const step = 304.8;
      const from = (v: number) => Math.floor(v / step - 1) * step;
      const to = (v: number) => Math.ceil(v / step + 1) * step;
      const z = Math.min(0, box.low[2]) - 0.5;
      const [x0, x1, y0, y1] = [from(box.low[0]), to(box.high[0]), from(box.low[1]), to(box.high[1])];
      for (let x = x0; x <= x1 + 1; x += step) ends.push(x, y0, z, x, y1, z);
      for (let y = y0; y <= y1 + 1; y += step) ends.push(x0, y, z, x1, y, z);
    }
    floor.geometry.setAttribute("position", new Float32BufferAttribute(ends, 3));
  }

  function show(): void {
    if (!look) return;
    const { chosen, fault, hover, offsets, only, shares } = look;
    drawn.show((index) => {
      const { id } = drawn.bodies[index]!.body;
      const offset = offsets.get(id) ?? still;
      const share = shares?.get(id);
      let as: As = fault.has(id) ? "fault" : "plain";
      if (share !== undefined) as = `share-${bandOf(share)}`;
      if (id === hover) as = "hover";
      if (chosen.has(id)) as = "chosen";
      if (only && !only.has(id)) as = "ghost";
      return { offset, as };
    });
    overlay.geometry.setAttribute("position", new Float32BufferAttribute(overlayEnds(look), 3));
    drawn.clip(cutPlane(look));
    soon();
  }

  function overlayEnds({ marks, lines }: Look): number[] {
    const arm = camera.position.distanceTo(controls.target) / 90;
    const ends = lines.flat();
    for (const [x, y, z] of marks) {
      ends.push(x - arm, y, z, x + arm, y, z, x, y - arm, z, x, y + arm, z, x, y, z - arm, x, y, z + arm);
    }
    return ends;
  }

  function cutPlane({ cut }: Look): Plane[] {
    const box = whole();
    if (!cut || !box) return [];
    const at = box.low[cut.axis] + (box.high[cut.axis] - box.low[cut.axis]) * cut.at;
    const normal = new Vector3();
    // What is taken away is the side that the usual view looks from.
    const sign = cut.axis === 1 ? 1 : -1;
    normal.setComponent(cut.axis, sign);
    return [new Plane(normal, -sign * at)];
  }

  return {
    bodies(list) {
      drawn.take(list);
      layFloor();
      show();
      if (!fitted && list.length) {
        fitted = true;
        fit();
      } else if (untouched) fit();
      soon();
    },
    look(next) {
      look = next;
      show();
    },
    side(side) {
      facing = sides[side];
      untouched = true;
      fit();
    },
    fit() {
      untouched = true;
      fit();
    },
    refit(next) {
      room = next;
      if (untouched) fit();
    },
    turn(right, up) {
      untouched = false;
      const arm = camera.position.clone().sub(controls.target);
      const level = Math.hypot(arm.x, arm.y);
      const round = Math.atan2(arm.y, arm.x) + right;
      const rise = Math.max(-1.55, Math.min(1.55, Math.atan2(arm.z, level) + up));
      const long = arm.length();
      arm.set(
        Math.cos(round) * Math.cos(rise) * long,
        Math.sin(round) * Math.cos(rise) * long,
        Math.sin(rise) * long,
      );
      camera.position.copy(controls.target).add(arm);
      controls.update();
      soon();
    },
    nearer(factor) {
      untouched = false;
      camera.position.sub(controls.target).multiplyScalar(1 / factor).add(controls.target);
      controls.update();
      soon();
    },
    pick: (x, y, kind) => pick(drawn, camera, { x, y, width: canvas.clientWidth, height: canvas.clientHeight }, kind),
    project(p) {
      const at = new Vector3(...p).project(camera);
      return { x: ((at.x + 1) / 2) * canvas.clientWidth, y: ((1 - at.y) / 2) * canvas.clientHeight };
    },
    recolour() {
      colours = coloursOf(canvas);
      painter.ground(colours.sheet);
      drawn.recolour(colours);
      overlay.material.color.copy(colours.mark);
      floor.material.color.copy(colours.grid);
      show();
    },
    onDraw: (then) => drawnNow.push(then),
    postpone: () => painter.postpone(),
    dispose() {
      cancelAnimationFrame(waiting);
      resize.disconnect();
      controls.dispose();
      drawn.dispose();
      for (const part of [overlay, floor]) {
        part.geometry.dispose();
        part.material.dispose();
      }
      painter.dispose();
    },
  };
}

function linesOf(colour: Color): LineSegments<BufferGeometry, LineBasicMaterial> {
  const lines = new LineSegments(new BufferGeometry(), new LineBasicMaterial({ color: colour }));
  lines.frustumCulled = false;
  lines.geometry.setAttribute("position", new Float32BufferAttribute([], 3));
  return lines;
}
