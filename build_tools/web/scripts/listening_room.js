/** The listening room: heart sounds made in the worker, played from the first touch on. */
import { askModel, pageEngines, whenShown } from "./page_engines.js";

const { engines } = pageEngines();

whenShown(() => {});
