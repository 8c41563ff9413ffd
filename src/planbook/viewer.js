// The piece in three dimensions, in the web edition of a plan: turned by dragging, keys or touch.
// `scene` is put in front of this script: { bodies: [{ name, points, triangles, edges, apart, step }], steps }.
(function () {
  "use strict";
  const box = document.getElementById("view");
  const canvas = box.querySelector("canvas");
  const gl = canvas.getContext("webgl", { antialias: true });
  if (!gl) {
    box.querySelector(".none").hidden = false;
    canvas.hidden = true;
    return;
  }
  const apart = document.getElementById("apart");
  const step = document.getElementById("step");
  const said = document.getElementById("said");
  const dark = window.matchMedia("(prefers-color-scheme: dark)");

  function program(vertex, fragment) {
    const made = gl.createProgram();
    for (const [kind, text] of [[gl.VERTEX_SHADER, vertex], [gl.FRAGMENT_SHADER, fragment]]) {
      const shader = gl.createShader(kind);
      gl.shaderSource(shader, text);
      gl.compileShader(shader);
      gl.attachShader(made, shader);
    }
    gl.linkProgram(made);
    return made;
  }
  const shared = "attribute vec3 at; uniform mat4 see; uniform vec3 move; ";
  const solid = program(
    shared + "attribute vec3 out_; varying vec3 n; void main() { n = out_; gl_Position = see * vec4(at + move, 1.0); }",
    "precision mediump float; varying vec3 n; uniform vec3 light, ink; void main() {" +
      " float l = 0.62 + 0.38 * max(dot(normalize(n), light), 0.0); gl_FragColor = vec4(ink * l, 1.0); }");
  const line = program(
    shared + "void main() { vec4 p = see * vec4(at + move, 1.0); p.z -= 0.0008; gl_Position = p; }",
    "precision mediump float; uniform vec3 ink; void main() { gl_FragColor = vec4(ink, 1.0); }");

  const low = [Infinity, Infinity, Infinity], high = [-Infinity, -Infinity, -Infinity];
  const bodies = scene.bodies.map(function (body) {
    const p = body.points, corners = [], normals = [], edges = [];
    for (let i = 0; i < p.length; ++i) {
      low[i % 3] = Math.min(low[i % 3], p[i]);
      high[i % 3] = Math.max(high[i % 3], p[i]);
    }
    for (let t = 0; t < body.triangles.length; t += 3) {
      const c = [0, 1, 2].map((k) => body.triangles[t + k] * 3).map((i) => [p[i], p[i + 1], p[i + 2]]);
      const u = c[1].map((v, k) => v - c[0][k]), v = c[2].map((w, k) => w - c[0][k]);
      const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
      for (const q of c) { corners.push(...q); normals.push(...n); }
    }
    for (const i of body.edges) edges.push(p[3 * i], p[3 * i + 1], p[3 * i + 2]);
    const store = (list) => {
      const buffer = gl.createBuffer();
      gl.bindBuffer(gl.ARRAY_BUFFER, buffer);
      gl.bufferData(gl.ARRAY_BUFFER, new Float32Array(list), gl.STATIC_DRAW);
      return { buffer, count: list.length / 3 };
    };
    return { body, corners: store(corners), normals: store(normals), edges: store(edges) };
  });
  const middle = low.map((v, k) => (v + high[k]) / 2);
  const reach = Math.hypot(...low.map((v, k) => high[k] - v)) / 2 || 1;
  let turn = 0.7, lift = 0.45, zoom = 1, shift = [0, 0];

  // Parallel projection: lines that are parallel in the piece stay so.
  function seen() {
    const c = Math.cos(turn), s = Math.sin(turn), e = Math.cos(lift), f = Math.sin(lift);
    const right = [c, s, 0], up = [-f * s, f * c, e], back = [e * s, -e * c, f];  // `back`: to the eye
    const wide = canvas.width / canvas.height;
    const k = zoom / (reach * 1.15);
    const x = wide > 1 ? k / wide : k, y = wide > 1 ? k : k * wide, z = -1 / (reach * 6);
    const dot = (a) => -(a[0] * middle[0] + a[1] * middle[1] + a[2] * middle[2]);
    return {
      see: new Float32Array([
        right[0] * x, up[0] * y, back[0] * z, 0, right[1] * x, up[1] * y, back[1] * z, 0,
        right[2] * x, up[2] * y, back[2] * z, 0,
        dot(right) * x + shift[0], dot(up) * y + shift[1], dot(back) * z, 1]),
      light: [0.35 * right[0] + 0.5 * up[0] + 0.79 * back[0], 0.35 * right[1] + 0.5 * up[1] + 0.79 * back[1],
        0.35 * right[2] + 0.5 * up[2] + 0.79 * back[2]],
    };
  }

  function bind(from, name, list) {
    const place = gl.getAttribLocation(from, name);
    gl.bindBuffer(gl.ARRAY_BUFFER, list.buffer);
    gl.enableVertexAttribArray(place);
    gl.vertexAttribPointer(place, 3, gl.FLOAT, false, 0, 0);
  }

  function draw() {
    const scale = window.devicePixelRatio || 1;
    canvas.width = Math.max(1, Math.round(canvas.clientWidth * scale));
    canvas.height = Math.max(1, Math.round(canvas.clientHeight * scale));
    gl.viewport(0, 0, canvas.width, canvas.height);
    gl.clearColor(0, 0, 0, 0);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    gl.enable(gl.DEPTH_TEST);
    const now = seen(), upto = Number(step.value), share = Number(apart.value) / 100;
    for (const one of bodies) {
      if (one.body.step > upto) continue;
      const move = one.body.apart.map((v) => v * share);
      gl.useProgram(solid);
      gl.uniformMatrix4fv(gl.getUniformLocation(solid, "see"), false, now.see);
      gl.uniform3fv(gl.getUniformLocation(solid, "move"), move);
      gl.uniform3fv(gl.getUniformLocation(solid, "light"), now.light);
      gl.uniform3fv(gl.getUniformLocation(solid, "ink"), one.body.step === upto && upto < scene.steps.length - 1 ? [0.93, 0.78, 0.5] : [0.95, 0.9, 0.8]);
      bind(solid, "at", one.corners);
      bind(solid, "out_", one.normals);
      gl.drawArrays(gl.TRIANGLES, 0, one.corners.count);
      gl.useProgram(line);
      gl.uniformMatrix4fv(gl.getUniformLocation(line, "see"), false, now.see);
      gl.uniform3fv(gl.getUniformLocation(line, "move"), move);
      gl.uniform3fv(gl.getUniformLocation(line, "ink"), dark.matches ? [0.1, 0.09, 0.08] : [0.2, 0.18, 0.16]);
      bind(line, "at", one.edges);
      gl.drawArrays(gl.LINES, 0, one.edges.count);
    }
    said.textContent = scene.steps[upto] || "";
    canvas.dataset.frames = String(1 + Number(canvas.dataset.frames || 0));
  }
  let waits = false;
  function later() {
    if (waits) return;
    waits = true;
    requestAnimationFrame(function () { waits = false; draw(); });
  }

  const held = new Map();
  canvas.addEventListener("pointerdown", function (e) { canvas.setPointerCapture(e.pointerId); held.set(e.pointerId, e); });
  canvas.addEventListener("pointermove", function (e) {
    const was = held.get(e.pointerId);
    if (!was) return;
    if (held.size === 2) {
      const other = [...held.values()].find((o) => o.pointerId !== e.pointerId);
      const span = (a) => Math.hypot(a.clientX - other.clientX, a.clientY - other.clientY) || 1;
      zoom = Math.min(20, Math.max(0.3, zoom * span(e) / span(was)));
    } else if (e.shiftKey) {
      shift = [shift[0] + 2 * (e.clientX - was.clientX) / canvas.clientWidth, shift[1] - 2 * (e.clientY - was.clientY) / canvas.clientHeight];
    } else {
      turn -= (e.clientX - was.clientX) * 0.008;
      lift = Math.min(1.57, Math.max(-1.57, lift + (e.clientY - was.clientY) * 0.008));
    }
    held.set(e.pointerId, e);
    later();
  });
  for (const end of ["pointerup", "pointercancel"]) canvas.addEventListener(end, (e) => held.delete(e.pointerId));
  canvas.addEventListener("wheel", function (e) {
    e.preventDefault();
    zoom = Math.min(20, Math.max(0.3, zoom * Math.exp(-e.deltaY * 0.001)));
    later();
  }, { passive: false });
  canvas.addEventListener("keydown", function (e) {
    const keys = {
      ArrowLeft: () => { turn += 0.15; }, ArrowRight: () => { turn -= 0.15; },
      ArrowUp: () => { lift = Math.min(1.57, lift + 0.15); }, ArrowDown: () => { lift = Math.max(-1.57, lift - 0.15); },
      "+": () => { zoom = Math.min(20, zoom * 1.2); }, "-": () => { zoom = Math.max(0.3, zoom / 1.2); },
      Home: () => { turn = 0.7; lift = 0.45; zoom = 1; shift = [0, 0]; },
    };
    if (!keys[e.key]) return;
    e.preventDefault();
    keys[e.key]();
    later();
  });
  for (const range of [apart, step]) range.addEventListener("input", later);
  new ResizeObserver(later).observe(canvas);
  dark.addEventListener("change", later);
  later();
})();
