import {
  AmbientLight,
  BufferAttribute,
  BufferGeometry,
  Color,
  DirectionalLight,
  DoubleSide,
  EdgesGeometry,
  Group,
  LineBasicMaterial,
  LineSegments,
  Mesh,
  MeshLambertMaterial,
  OrthographicCamera,
  Plane,
  Scene,
  Vector3,
  WebGLRenderer,
} from 'three';
import type { components } from '../api/api.gen';
import { readMesh } from './mesh';

type SolidLine = components['schemas']['SolidLine'];

const creaseDeg = 25; // flatter creases are the flats of a round and not inked

// Solids are the pieces as they can be turned: flat tints and ink edges, as on the sheet.
export class Solids {
  readonly #renderer: WebGLRenderer;
  readonly #scene = new Scene();
  readonly #camera = new OrthographicCamera();
  readonly #all = new Group();
  readonly #cut = new Plane(new Vector3(0, 0, -1), Infinity);
  readonly #canvas: HTMLCanvasElement;
  #pieces: { group: Group; line: SolidLine }[] = [];
  #turn = -0.6;
  #tilt = 0.35;
  #near = 1;
  #size = 1;
  #middle = new Vector3();
  #due = 0;

  // Throws where the browser has no WebGL.
  constructor(canvas: HTMLCanvasElement) {
    this.#canvas = canvas;
    this.#renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true });
    this.#renderer.localClippingEnabled = true;
    this.#scene.add(this.#all, new AmbientLight(0xffffff, 2.2));
    const lamp = new DirectionalLight(0xffffff, 1.4);
    lamp.position.set(1, -2, 1.5);
    this.#camera.add(lamp);
    this.#scene.add(this.#camera);
    this.#camera.up.set(0, 0, 1);
  }

  // add puts a piece where it lies in the build.
  add(line: SolidLine, bytes: ArrayBuffer): void {
    const { positions, indices } = readMesh(bytes);
    const geometry = new BufferGeometry();
    geometry.setAttribute('position', new BufferAttribute(positions, 3));
    geometry.setIndex(new BufferAttribute(indices, 1));
    const flat = geometry.toNonIndexed();
    flat.computeVertexNormals();
    const clippingPlanes = [this.#cut];
    const face = new MeshLambertMaterial({
      color: ink(line.tint || 'field'),
      side: DoubleSide,
      clippingPlanes,
      polygonOffset: true,
      polygonOffsetFactor: 1,
      polygonOffsetUnits: 1,
    });
    const edge = new LineBasicMaterial({ color: ink('ink'), clippingPlanes });
    const group = new Group();
    group.add(new Mesh(flat, face), new LineSegments(new EdgesGeometry(geometry, creaseDeg), edge));
    this.#all.add(group);
    this.#pieces.push({ group, line });
    this.#measure();
    this.draw();
  }

  turn(by: number, tilt: number): void {
    this.#turn += by;
    this.#tilt = Math.min(1.5, Math.max(-1.5, this.#tilt + tilt));
    this.draw();
  }

  nearer(by: number): void {
    this.#near = Math.min(12, Math.max(0.5, this.#near * by));
    this.draw();
  }

  // apart pulls the pieces the way they were put together; 0 is together, 1 all the way.
  apart(share: number): void {
    for (const { group, line } of this.#pieces) {
      const [x = 0, y = 0, z = 0] = line.apart_mm;
      group.position.set(x, y, z).multiplyScalar(share);
    }
    this.#measure();
    this.draw();
  }

  // cutAt hides what lies beyond a station; undefined shows all.
  cutAt(station: number | undefined): void {
    this.#cut.constant = station ?? Infinity;
    this.draw();
  }

  draw(): void {
    cancelAnimationFrame(this.#due);
    this.#due = requestAnimationFrame(() => this.#draw());
  }

  leave(): void {
    cancelAnimationFrame(this.#due);
    this.#renderer.dispose();
  }

  #measure(): void {
    const low = new Vector3(Infinity, Infinity, Infinity);
    const high = low.clone().negate();
    for (const { group } of this.#pieces) {
      const geometry = (group.children[0] as Mesh).geometry;
      geometry.computeBoundingBox();
      if (!geometry.boundingBox) continue;
      low.min(geometry.boundingBox.min.clone().add(group.position));
      high.max(geometry.boundingBox.max.clone().add(group.position));
    }
    this.#middle = low.clone().add(high).multiplyScalar(0.5);
    this.#size = Math.max(1, high.distanceTo(low));
  }

  #draw(): void {
    const { clientWidth: w, clientHeight: h } = this.#canvas;
    if (w === 0 || h === 0) return;
    this.#renderer.setPixelRatio(Math.min(2, devicePixelRatio));
    this.#renderer.setSize(w, h, false);
    const half = (this.#size * 0.54) / this.#near;
    const wide = (half * w) / h;
    Object.assign(this.#camera, {
      left: -wide,
      right: wide,
      top: half,
      bottom: -half,
      near: 1,
      far: 10 * this.#size,
    });
    this.#camera.updateProjectionMatrix();
    const away = new Vector3(
      Math.cos(this.#tilt) * Math.sin(this.#turn),
      -Math.cos(this.#tilt) * Math.cos(this.#turn),
      Math.sin(this.#tilt),
    );
    this.#camera.position.copy(this.#middle).addScaledVector(away, 4 * this.#size);
    this.#camera.lookAt(this.#middle);
    this.#renderer.render(this.#scene, this.#camera);
  }
}

// ink is a named colour as the page has it now.
function ink(name: string): Color {
  const value = getComputedStyle(document.documentElement).getPropertyValue(`--${name}`).trim();
  return new Color(value || '#888888');
}
