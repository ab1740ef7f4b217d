#version 330 core
in float v_along;
in float v_across;
out vec4 colour;
uniform vec4 ink;
uniform float width_px;
uniform float dash_mm; // 0: unbroken
uniform float dash_share;
void main() {
    float edge = (1.0 - abs(v_across)) * (width_px + 1.0) * 0.5;
    float alpha = clamp(edge, 0.0, 1.0);
    if (dash_mm > 0.0) {
        float t = fract(v_along / dash_mm);
        float soft = max(fwidth(v_along / dash_mm), 1e-4);
        alpha *= clamp((dash_share - t) / soft, 0.0, 1.0) * clamp(t / soft, 0.0, 1.0);
    }
    colour = vec4(sqrt(ink.rgb), ink.a * alpha);
}
