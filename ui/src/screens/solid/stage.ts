import {
  BufferGeometry,
  Color,
  DirectionalLight,
  DoubleSide,
  Float32BufferAttribute,
  AmbientLight,
  LineBasicMaterial,
  LineSegments,
  Mesh,
  MeshLambertMaterial,
  PerspectiveCamera,
  Scene,
  Vector3,
  WebGLRenderer,
  WireframeGeometry,
} from 'three'
import type { FloorSurface } from '../../bridge/generated/FloorSurface'

/** What is drawn, and how it is looked at. `turn` is the angle about the vertical. */
export type Shot = {
  surface: FloorSurface
  factor: number
  turn: number
  wide: number
  high: number
  theme: 'light' | 'dark'
  /** Places of the plan that carry a word, outside the floor by a share of its size. */
  words: { text: string; at: [number, number] }[]
}
/** Where a word stands in the picture, px. */
export type Word = { text: string; x: number; y: number }
export type Stage = { draw: (shot: Shot) => Word[]; end: () => void }

/** Heights below this, mm, on either side are drawn pale, as on the map. */
const FULL = 12.7

/** A stage that draws onto the canvas; it throws where the device has no way to. */
export function stageOn(canvas: HTMLCanvasElement): Stage {
  const renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true })
  renderer.setPixelRatio(Math.min(devicePixelRatio, 2))
  return { draw: (shot) => drawOn(renderer, shot), end: () => renderer.dispose() }
}

function drawOn(renderer: WebGLRenderer, shot: Shot): Word[] {
  const { scene, size, middle, parts } = sceneOf(shot)
  const camera = new PerspectiveCamera(35, shot.wide / shot.high, size / 50, size * 20)
  const away = size * (shot.wide < shot.high ? 3.2 : 1.7)
  camera.position.set(Math.sin(shot.turn) * away, away * 0.62, Math.cos(shot.turn) * away)
  camera.lookAt(0, 0, 0)
  renderer.setSize(shot.wide, shot.high)
  renderer.render(scene, camera)
  parts.forEach((part) => part.dispose())
  camera.updateMatrixWorld()
  return shot.words.map(({ text, at: [x, y] }) => {
    const seen = new Vector3(x - middle[0]!, 0, middle[1]! - y).project(camera)
    return { text, x: ((seen.x + 1) / 2) * shot.wide, y: ((1 - seen.y) / 2) * shot.high }
  })
}

/** The floor about its middle, up along y, the wall that y is measured from toward who looks, with light from one side so that its facets show. */
function sceneOf({ surface, factor }: Shot) {
  const { points, triangles } = surface
  const middle = [0, 1, 2].map((axis) => (least(points, axis) + most(points, axis)) / 2)
  const size = Math.max(most(points, 0) - least(points, 0), most(points, 1) - least(points, 1), 1)
  const geometry = new BufferGeometry()
  const at = points.flatMap(([x, y, z]) => [x - middle[0]!, (z - middle[2]!) * factor, middle[1]! - y])
  geometry.setAttribute('position', new Float32BufferAttribute(at, 3))
  geometry.setAttribute(
    'color',
    new Float32BufferAttribute(
      points.flatMap(([, , z]) => shade(z - middle[2]!)),
      3,
    ),
  )
  geometry.setIndex(triangles.flat())
  geometry.computeVertexNormals()
  const floor = new MeshLambertMaterial({ vertexColors: true, side: DoubleSide, flatShading: true })
  const edges = new WireframeGeometry(geometry)
  const ink = new LineBasicMaterial({ color: colour('--edge') })
  const light = new DirectionalLight(0xffffff, 1.6)
  light.position.set(-1, 2, 1)
  const scene = new Scene().add(
    new Mesh(geometry, floor),
    new LineSegments(edges, ink),
    light,
    new AmbientLight(0xffffff, 1.6),
  )
  return { scene, size, middle, parts: [geometry, floor, edges, ink] }
}

function least(points: FloorSurface['points'], axis: number): number {
  return Math.min(...points.map((point) => point[axis as 0 | 1 | 2]))
}

function most(points: FloorSurface['points'], axis: number): number {
  return Math.max(...points.map((point) => point[axis as 0 | 1 | 2]))
}

/** Orange above the middle, blue below, paper between. */
function shade(over: number): number[] {
  const side = colour(over > 0 ? '--high' : '--low')
  return colour('--paper')
    .lerp(side, Math.min(1, Math.abs(over) / FULL) * 0.85)
    .toArray()
}

function colour(token: string): Color {
  return new Color(getComputedStyle(document.documentElement).getPropertyValue(token).trim())
}
