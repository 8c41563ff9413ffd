// Brings the scene onto the canvas. Where a processor does the work of graphics hardware, each change is
// drawn at once with plain edges, and once more with smooth ones when nothing has changed for a while.
import {
  Camera,
  type Color,
  LinearSRGBColorSpace,
  Mesh,
  MeshBasicMaterial,
  type PerspectiveCamera,
  PlaneGeometry,
  type Scene,
  WebGLRenderer,
  WebGLRenderTarget,
} from "three";

/** How long nothing may change before it is drawn smoothly, ms. */
const rest = 400;
const samples = 4;

export class Painter {
  private readonly renderer: WebGLRenderer;
  private readonly smooth = new WebGLRenderTarget(1, 1, { samples });
  private readonly copy = new Mesh(
    new PlaneGeometry(2, 2),
    new MeshBasicMaterial({ map: this.smooth.texture, depthTest: false, depthWrite: false }),
  );
  private readonly still = new Camera();
  private readonly isSlow: boolean;
  private waiting = 0;

  constructor(
    private readonly canvas: HTMLCanvasElement,
    private readonly scene: Scene,
    private readonly camera: PerspectiveCamera,
  ) {
    this.renderer = new WebGLRenderer({ canvas, antialias: false, alpha: false });
    this.renderer.localClippingEnabled = true;
    this.renderer.outputColorSpace = LinearSRGBColorSpace;
    this.copy.frustumCulled = false;
    this.isSlow = isDrawnByProcessor(this.renderer.getContext());
    canvas.dataset["drawnBy"] = this.isSlow ? "processor" : "hardware";
  }

  /** The colour behind everything. */
  ground(colour: Color): void {
    this.renderer.setClearColor(colour, 1);
  }

  resize(width: number, height: number): void {
    this.renderer.setSize(width, height, false);
  }

  paint(): void {
    clearTimeout(this.waiting);
    if (!this.isSlow) {
      this.paintSmoothly();
      return;
    }
    this.dense(1);
    this.renderer.render(this.scene, this.camera);
    this.canvas.dataset["edges"] = "plain";
    this.smoothLater();
  }

  /** A change is on its way: what is drawn slowly waits, so that it is not in the way. */
  postpone(): void {
    if (this.isSlow && this.canvas.dataset["edges"] === "plain") this.smoothLater();
  }

  private smoothLater(): void {
    clearTimeout(this.waiting);
    this.waiting = window.setTimeout(() => this.paintSmoothly(), rest);
  }

  private paintSmoothly(): void {
    this.dense(Math.min(devicePixelRatio, 2));
    this.smooth.setSize(this.canvas.width, this.canvas.height);
    this.renderer.setRenderTarget(this.smooth);
    this.renderer.render(this.scene, this.camera);
    this.renderer.setRenderTarget(null);
    this.renderer.render(this.copy, this.still);
    this.canvas.dataset["edges"] = "smooth";
  }

  /** Dots a CSS pixel. */
  private dense(ratio: number): void {
    if (this.renderer.getPixelRatio() !== ratio) this.renderer.setPixelRatio(ratio);
  }

  dispose(): void {
    clearTimeout(this.waiting);
    this.smooth.dispose();
    this.copy.geometry.dispose();
    this.copy.material.dispose();
    this.renderer.dispose();
  }
}

/** Whether the browser says so in the name of what draws. */
function isDrawnByProcessor(context: WebGLRenderingContext | WebGL2RenderingContext): boolean {
  const named = context.getExtension("WEBGL_debug_renderer_info");
  const name = String(context.getParameter(named ? named.UNMASKED_RENDERER_WEBGL : context.RENDERER));
  return /swiftshader|llvmpipe|softpipe|software|basic render/i.test(name);
}
