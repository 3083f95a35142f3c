// What hands do to a drawing that scrolls: a press, a drag with the mouse, a pinch, a wheel with the control key.
// One finger scrolls, and the browser does that by itself.

const SLIP = 5; // px a mouse may move in a press

/** Listen on a scroller. `zoom(by, {x, y})` hears pinch and wheel, `press(event, pointer)` a press that was no drag. */
export function handled(scroller, { zoom, press }) {
  let pointer = "mouse";
  let drag;
  let dragged = false;
  scroller.addEventListener("pointerdown", (event) => {
    pointer = event.pointerType;
    dragged = false;
    if (pointer !== "mouse" || event.button !== 0) return;
    drag = { x: event.clientX, y: event.clientY, left: scroller.scrollLeft, top: scroller.scrollTop };
  });
  scroller.addEventListener("pointermove", (event) => {
    if (!drag) return;
    const [x, y] = [event.clientX - drag.x, event.clientY - drag.y];
    if (!dragged && Math.hypot(x, y) < SLIP) return;
    if (!dragged) scroller.setPointerCapture(event.pointerId);
    dragged = true;
    scroller.scrollTo(drag.left - x, drag.top - y);
  });
  for (const end of ["pointerup", "pointercancel"]) scroller.addEventListener(end, () => (drag = undefined));
  scroller.addEventListener("click", (event) => {
    if (!dragged) press(event, pointer);
    dragged = false;
  });
  const turned = (event) => {
    if (!event.ctrlKey) return;
    event.preventDefault();
    zoom(Math.exp(-event.deltaY / 200), { x: event.clientX, y: event.clientY });
  };
  scroller.addEventListener("wheel", turned, { passive: false });

  let spread = 0;
  const apart = ([one, other]) => Math.hypot(one.clientX - other.clientX, one.clientY - other.clientY);
  const begun = ({ touches }) => (spread = touches.length === 2 ? apart(touches) : 0);
  const pinched = (event) => {
    if (event.touches.length !== 2 || !spread) return;
    event.preventDefault();
    const [one, other] = event.touches;
    const now = apart(event.touches);
    zoom(now / spread, { x: (one.clientX + other.clientX) / 2, y: (one.clientY + other.clientY) / 2 });
    spread = now;
  };
  scroller.addEventListener("touchstart", begun, { passive: true });
  scroller.addEventListener("touchmove", pinched, { passive: false });
}
