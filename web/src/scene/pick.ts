// What is under the pointer: a board, one of its faces, an edge's middle or a corner.
import { type Camera, Raycaster, Vector2, Vector3 } from "three";
import type { Drawn } from "./drawn";
import { type Picked, type PickKind, placesOf } from "./places";
import { type SceneBody, triple, turned } from "./shapes";

interface Spot {
  x: number;
  y: number;
  width: number;
  height: number;
}

/** How near, in CSS pixels, the pointer must be to a corner or the middle of an edge. */
const reach = 14;

export function pick(drawn: Drawn, camera: Camera, spot: Spot, kind: PickKind): Picked | null {
  const ray = new Raycaster();
  ray.setFromCamera(
    new Vector2((spot.x / spot.width) * 2 - 1, 1 - (spot.y / spot.height) * 2),
    camera,
  );
  drawn.solid.geometry.boundingSphere = null;
  const planes = drawn.solid.material.clippingPlanes ?? [];
  const hit = ray
    .intersectObject(drawn.solid)
    .find(({ point }) => planes.every((plane) => plane.distanceToPoint(point) >= 0));
  if (hit?.faceIndex == null) return null;
  const owner = drawn.ownerOf(hit.faceIndex);
  if (!owner) return null;
  const one = drawn.bodies[owner.index]!;
  const found = one.shape.faces.findIndex(
    ({ from, count }) => owner.triangle >= from && owner.triangle < from + count,
  );
  const face = one.shape.faces[found];
  const picked: Picked = {
    board: one.body.id,
    at: [hit.point.x, hit.point.y, hit.point.z],
    face: found < 0 ? null : found,
    normal: face ? turned(one.body, triple(face.normal)) : null,
    words: face ? `${one.body.id}, ${face.words}` : one.body.id,
  };
  return kind === "place" ? (nearest(one, camera, spot) ?? picked) : picked;
}

/** The corner, middle of an edge or end of the middle line nearest to the pointer, if one is near. */
function nearest(one: SceneBody, camera: Camera, spot: Spot): Picked | null {
  let best: Picked | null = null;
  let least = reach;
  for (const place of placesOf(one)) {
    const seen = new Vector3(...place.at).project(camera);
    const x = ((seen.x + 1) / 2) * spot.width;
    const y = ((1 - seen.y) / 2) * spot.height;
    const far = Math.hypot(x - spot.x, y - spot.y);
    if (far < least) {
      least = far;
      best = place;
    }
  }
  return best;
}
