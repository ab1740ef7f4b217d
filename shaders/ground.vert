#version 330 core
// Board, guides, rolling pin, bench and wall: they keep their size at every stage.
layout(location = 0) in vec3 position;
layout(location = 2) in vec4 normal;
layout(location = 4) in vec2 uv;
uniform mat4 view_projection;
out vec3 v_position;
out vec3 v_normal;
out vec2 v_uv;
out float v_open;
void main() {
    v_position = position;
    v_normal = normal.xyz;
    v_open = normal.w;
    v_uv = uv;
    gl_Position = view_projection * vec4(position, 1.0);
}
