import { Canvas, type FabricObject, type Point } from 'fabric/es';

/** Fabric's interactive canvas, where the selected artwork takes the pointer even beneath another one. */
export class ArtworkCanvas extends Canvas {
  constructor(element: HTMLCanvasElement) {
    super(element, {
      enablePointerEvents: true,
      allowTouchScrolling: true, // a swipe scrolls the page until the stage takes it
      enableRetinaScaling: false, // the camera reckons with the pixel ratio, within the limits of bitmaps
      renderOnAddRemove: false,
      selection: false,
      // modifier keys have meanings of the stage's own
      selectionKey: null,
      altSelectionKey: null,
      centeredKey: null,
      uniScaleKey: null,
      altActionKey: null,
      stopContextMenu: false,
      fireRightClick: false,
      fireMiddleClick: false,
    });
    this.setDimensions({ width: '100%', height: '100%' }, { cssOnly: true });
    this.upperCanvasEl.draggable = false;
  }

  override searchPossibleTargets(
    objects: FabricObject[],
    pointer: Point,
  ): ReturnType<Canvas['searchPossibleTargets']> {
    const active = this.getActiveObject();
    const first = active?.containsPoint(pointer) ? [active] : objects;
    return super.searchPossibleTargets(first, pointer);
  }

  /** Leaves no listener behind, even while a frame is waiting to be drawn. */
  override dispose(): Promise<boolean> {
    this.cancelRequestedRender();
    return super.dispose();
  }
}
