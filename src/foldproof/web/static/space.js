// Turns, places and polygons in space: what the folded thing is posed and sorted with. Turns are unit quaternions.

export const NONE = [0, 0, 0, 1];

export function rotate([x, y, z, w], [a, b, c]) {
  const [u, v, t] = [2 * (y * c - z * b), 2 * (z * a - x * c), 2 * (x * b - y * a)];
  return [a + w * u + y * t - z * v, b + w * v + z * u - x * t, c + w * t + x * v - y * u];
}

export function both([a, b, c, d], [x, y, z, w]) {
  return [d * x + a * w + b * z - c * y, d * y - a * z + b * w + c * x, d * z + a * y - b * x + c * w, d * w - a * x - b * y - c * z];
}

/** From one turn to another, the shorter way, at an even speed. */
export function between(one, other, share) {
  let dot = one.reduce((sum, value, at) => sum + value * other[at], 0);
  const sign = dot < 0 ? -1 : 1;
  dot *= sign;
  if (dot > 0.99999) return unit(one.map((value, at) => value + share * (sign * other[at] - value)));
  const angle = Math.acos(dot);
  const [a, b] = [Math.sin((1 - share) * angle), Math.sin(share * angle) * sign];
  return one.map((value, at) => (a * value + b * other[at]) / Math.sin(angle));
}

const unit = (values) => {
  const length = Math.hypot(...values);
  return values.map((value) => value / length);
};

/** The value of a track at a time; its first and last ones hold before and after. */
export function keyed(track, time) {
  const { times, values } = track;
  if (time <= times[0]) return values[0];
  const last = times.length - 1;
  if (time >= times[last]) return values[last];
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (times[middle] <= time) low = middle;
    else high = middle;
  }
  const share = (time - times[low]) / (times[high] - times[low]);
  return track.path === "turn"
    ? between(values[low], values[high], share)
    : values[low].map((value, at) => value + share * (values[high][at] - value));
}

/** World turn and place of every node, at a time in each clip: {fold: 3.2, "turn lid": 0}. */
export function pose(model, clock) {
  const found = [];
  for (const node of model.nodes) {
    let { at, turn } = node;
    for (const track of node.tracks) {
      const time = clock[track.clip];
      if (time === undefined) continue;
      if (track.path === "turn") turn = keyed(track, time);
      else at = keyed(track, time);
    }
    if (node.parent < 0) found.push({ at, turn });
    else {
      const parent = found[node.parent];
      const moved = rotate(parent.turn, at);
      found.push({ at: [parent.at[0] + moved[0], parent.at[1] + moved[1], parent.at[2] + moved[2]], turn: both(parent.turn, turn) });
    }
  }
  return found;
}

/** The rings round a plate, the outline first, then its holes: the sides that only one triangle has, one after the other. */
export function rings(plate) {
  const after = new Map();
  const sides = new Set();
  for (const [a, b, c] of plate.triangles) for (const [from, to] of [[a, b], [b, c], [c, a]]) sides.add(`${from} ${to}`);
  for (const side of sides) {
    const [from, to] = side.split(" ").map(Number);
    if (!sides.has(`${to} ${from}`)) after.set(from, to);
  }
  const found = [];
  while (after.size) {
    const [first] = after.keys();
    const ring = [];
    for (let at = first; after.has(at); ) {
      ring.push(at);
      const next = after.get(at);
      after.delete(at);
      at = next;
    }
    found.push(ring);
  }
  const size = (ring) => measures(ring.map((corner) => plate.points[corner])).area;
  return found.sort((one, other) => size(other) - size(one));
}

/** Which of some flat faces is drawn before which: from the far ones to the near ones.
 *
 * A face has `flat` [[x, y]…] as seen, `plane` [a, b, c] with depth = a x + b y + c (greater is nearer), and `box`.
 * Two faces are compared where they cover each other as seen: there the one with less depth comes first.
 */
export function farToNear(faces) {
  const count = faces.length;
  const before = Array.from({ length: count }, () => []);
  const waits = new Array(count).fill(0);
  for (let one = 0; one < count; one += 1) {
    for (let other = one + 1; other < count; other += 1) {
      const nearer = compare(faces[one], faces[other]);
      if (nearer === 0) continue;
      const [first, second] = nearer > 0 ? [other, one] : [one, other];
      before[first].push(second);
      waits[second] += 1;
    }
  }
  const order = [];
  const left = new Set(faces.keys());
  while (left.size) {
    // A ring of faces, each before the next, has no order: the farthest of those left goes first.
    const ready = [...left].filter((face) => waits[face] <= 0);
    const next = (ready.length ? ready : [...left]).reduce((best, face) => (faces[face].depth < faces[best].depth ? face : best));
    left.delete(next);
    order.push(next);
    for (const face of before[next]) waits[face] -= 1;
  }
  return order;
}

const SAME = 1e-3; // of a mm: faces in one plane have no order, and need none
const THIN = 0.5; // mm: where faces meet at a fold their edges reach into each other by less; either may lie on top there

/** More than 0 when the first face is nearer where both are seen, less when the second is; 0 when they do not meet. */
function compare(one, other) {
  if (one.box[0] >= other.box[2] || other.box[0] >= one.box[2] || one.box[1] >= other.box[3] || other.box[1] >= one.box[3]) return 0;
  if (one.convex || other.convex) {
    const both = other.convex ? clipped(one.flat, other.flat) : clipped(other.flat, one.flat);
    if (both.length < 3) return 0;
    const { area, length, middle } = measures(both);
    if (2 * area < THIN * length) return 0;
    const apart = depth(one.plane, ...middle) - depth(other.plane, ...middle);
    return Math.abs(apart) > SAME ? apart : 0;
  }
  let most = 0;
  const look = ([x, y]) => {
    const apart = depth(one.plane, x, y) - depth(other.plane, x, y);
    if (Math.abs(apart) > Math.abs(most)) most = apart;
  };
  for (const point of one.flat) if (inside(point, other.flat)) look(point);
  for (const point of other.flat) if (inside(point, one.flat)) look(point);
  crossings(one.flat, other.flat, look);
  return Math.abs(most) > SAME ? most : 0;
}

/** The part of a ring inside a convex one, which may run either way round. */
function clipped(ring, convex) {
  const sign = measures(convex).signed < 0 ? -1 : 1;
  let left = ring;
  for (let at = 0; at < convex.length && left.length; at += 1) {
    const [ax, ay] = convex[at];
    const [bx, by] = convex[(at + 1) % convex.length];
    const height = ([x, y]) => sign * ((bx - ax) * (y - ay) - (by - ay) * (x - ax));
    const kept = [];
    for (let n = 0; n < left.length; n += 1) {
      const [first, second] = [left[n], left[(n + 1) % left.length]];
      const [h, k] = [height(first), height(second)];
      if (h >= 0) kept.push(first);
      if (h >= 0 !== k >= 0) kept.push([first[0] + (h / (h - k)) * (second[0] - first[0]), first[1] + (h / (h - k)) * (second[1] - first[1])]);
    }
    left = kept;
  }
  return left;
}

function measures(ring) {
  let [signed, length, x, y] = [0, 0, 0, 0];
  const [ox, oy] = ring[0];
  for (let at = 0; at < ring.length; at += 1) {
    const [ax, ay] = [ring[at][0] - ox, ring[at][1] - oy];
    const [bx, by] = [ring[(at + 1) % ring.length][0] - ox, ring[(at + 1) % ring.length][1] - oy];
    const cross = ax * by - bx * ay;
    signed += cross / 2;
    x += ((ax + bx) * cross) / 6;
    y += ((ay + by) * cross) / 6;
    length += Math.hypot(bx - ax, by - ay);
  }
  return { signed, area: Math.abs(signed), length, middle: signed ? [ox + x / signed, oy + y / signed] : [ox, oy] };
}

export function isConvex(ring) {
  let sign = 0;
  for (let at = 0; at < ring.length; at += 1) {
    const [ax, ay] = ring[at];
    const [bx, by] = ring[(at + 1) % ring.length];
    const [cx, cy] = ring[(at + 2) % ring.length];
    const cross = (bx - ax) * (cy - by) - (by - ay) * (cx - bx);
    if (Math.abs(cross) < 1e-9) continue;
    if (sign && Math.sign(cross) !== sign) return false;
    sign = Math.sign(cross);
  }
  return true;
}

const depth = ([a, b, c], x, y) => a * x + b * y + c;

export function inside([x, y], ring) {
  let found = false;
  for (let at = 0, last = ring.length - 1; at < ring.length; last = at, at += 1) {
    const [ax, ay] = ring[at];
    const [bx, by] = ring[last];
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) found = !found;
  }
  return found;
}

function crossings(one, other, look) {
  for (let i = 0; i < one.length; i += 1) {
    const [ax, ay] = one[i];
    const [bx, by] = one[(i + 1) % one.length];
    const [dx, dy] = [bx - ax, by - ay];
    for (let j = 0; j < other.length; j += 1) {
      const [cx, cy] = other[j];
      const [ex, ey] = other[(j + 1) % other.length];
      const [fx, fy] = [ex - cx, ey - cy];
      const cross = dx * fy - dy * fx;
      if (Math.abs(cross) < 1e-12) continue;
      const t = ((cx - ax) * fy - (cy - ay) * fx) / cross;
      const u = ((cx - ax) * dy - (cy - ay) * dx) / cross;
      if (t > 0 && t < 1 && u > 0 && u < 1) look([ax + t * dx, ay + t * dy]);
    }
  }
}
