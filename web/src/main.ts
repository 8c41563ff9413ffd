import "./look/tokens.css";
import "./look/base.css";
import { mount } from "svelte";
import App from "./App.svelte";
import { applyLight } from "./model/settings.svelte";

applyLight();
const target = document.getElementById("page");
if (target) mount(App, { target });
