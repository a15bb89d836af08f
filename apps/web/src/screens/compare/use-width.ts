import { type RefObject, useLayoutEffect, useRef, useState } from "react";

/** The width an element is given, in pixels, so that what is drawn in it keeps its type at its size. */
export function useWidth<E extends HTMLElement>(first: number): [RefObject<E | null>, number] {
  const frame = useRef<E>(null);
  const [width, setWidth] = useState(first);
  useLayoutEffect(() => {
    const element = frame.current;
    if (!element) return;
    const measure = () => {
      // Nothing is measured on paper: the picture is scaled to it as it stands.
      if (element.clientWidth > 0) setWidth(element.clientWidth);
    };
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  return [frame, width];
}
