#version 330 core
// A segment as a ribbon of so many pixels, a little nearer to the eye than it is.
layout(lines) in;
layout(triangle_strip, max_vertices = 4) out;
in float g_along[];
out float v_along;
out float v_across; // -1 to 1
uniform vec2 pixels;      // of the viewport
uniform float width_px;
uniform float towards;    // share of the depth
void main() {
    vec4 a = gl_in[0].gl_Position, b = gl_in[1].gl_Position;
    if (a.w <= 0.0 || b.w <= 0.0) return;
    vec2 step = (b.xy / b.w - a.xy / a.w) * pixels;
    float size = length(step);
    if (size < 1e-6) return;
    vec2 ahead = step / size;
    vec2 side = vec2(-ahead.y, ahead.x) * (width_px + 1.0) / pixels;
    vec2 cap = ahead * 0.3 * width_px / pixels;
    for (int k = 0; k < 4; ++k) {
        bool end = k > 1;
        vec4 p = end ? b : a;
        float way = (k & 1) == 0 ? 1.0 : -1.0;
        v_along = end ? g_along[1] : g_along[0];
        v_across = way;
        p.xy += (side * way + cap * (end ? 1.0 : -1.0)) * p.w;
        p.z -= towards * p.w;
        gl_Position = p;
        EmitVertex();
    }
    EndPrimitive();
}
