#pragma once
// The programs that run on the graphics side; private to the folder.

namespace ridgeward::draw::shaders {

inline constexpr const char* shadow_vertex = R"(#version 330 core
layout(location = 0) in vec3 at;
uniform mat4 light;
void main() { gl_Position = light * vec4(at, 1.0); }
)";

inline constexpr const char* shadow_fragment = R"(#version 330 core
void main() {}
)";

// The shadow on the ground: everything thrown onto it along the light.
inline constexpr const char* ground_vertex = R"(#version 330 core
layout(location = 0) in vec3 at;
uniform mat4 clip;
uniform vec3 lamp;
uniform float ground;
void main() { gl_Position = clip * vec4(at - lamp * ((at.z - ground) / lamp.z), 1.0); }
)";

inline constexpr const char* ground_fragment = R"(#version 330 core
uniform vec4 tint;
out vec4 colour;
void main() { colour = tint; }
)";

inline constexpr const char* face_vertex = R"(#version 330 core
layout(location = 0) in vec3 at;
layout(location = 1) in vec3 normal;
uniform mat4 clip;
out vec3 place;
out vec3 outward;
void main() {
  place = at;
  outward = normal;
  gl_Position = clip * vec4(at, 1.0);
}
)";

// Light from the sky and the ground, and a lamp over the left shoulder that casts shadows.
inline constexpr const char* face_fragment = R"(#version 330 core
in vec3 place;
in vec3 outward;
uniform vec3 eye, lamp, tint, hatch_tint;
uniform mat4 light;
uniform float alpha, scale;
uniform int hatch;
uniform sampler2DShadow shadow;
out vec4 colour;

float lit(vec3 n) {
  vec4 p = light * vec4(place + n * 0.05, 1.0);
  vec3 at = p.xyz * 0.5 + 0.5;
  if (any(lessThan(at, vec3(0.0))) || any(greaterThan(at, vec3(1.0)))) return 1.0;
  vec2 texel = 1.0 / vec2(textureSize(shadow, 0));
  vec2 reach = 0.8 / vec2(textureSize(shadow, 0));
  float deep = at.z - 0.0006;
  return 0.25 * (texture(shadow, vec3(at.xy + reach * vec2(-1.0, -0.4), deep)) +
                 texture(shadow, vec3(at.xy + reach * vec2(0.4, -1.0), deep)) +
                 texture(shadow, vec3(at.xy + reach * vec2(1.0, 0.4), deep)) +
                 texture(shadow, vec3(at.xy + reach * vec2(-0.4, 1.0), deep)));
}

float stripes(float across) {
  float t = abs(fract(across / (9.0 * scale)) - 0.5) * 9.0 * scale;
  return 1.0 - smoothstep(0.35 * scale, 1.25 * scale, t);
}

void main() {
  vec3 n = normalize(outward);
  if (dot(n, eye - place) < 0.0) n = -n;
  float facing = max(dot(n, lamp), 0.0);
  float sun = facing * (facing > 0.0 ? lit(n) : 0.0);
  float sky = 0.5 + 0.5 * n.z;
  vec3 light_here = mix(vec3(0.70, 0.68, 0.66), vec3(0.76, 0.79, 0.83), sky) + sun * vec3(0.40, 0.38, 0.34);
  vec4 paint = vec4(tint, alpha);
  float diagonal = (gl_FragCoord.x + gl_FragCoord.y) * 0.7071;
  float other = (gl_FragCoord.x - gl_FragCoord.y) * 0.7071;
  float mark = hatch == 0 ? 0.0 : hatch == 1 ? stripes(diagonal) : max(stripes(diagonal), stripes(other));
  paint = mix(paint, vec4(hatch_tint, 0.85), mark);
  vec3 shade = min(paint.rgb * light_here, vec3(1.0));
  colour = vec4(shade, paint.a);
}
)";

// A stroke is a ribbon of constant width on the screen, a little nearer to the eye than what it
// lies on.
inline constexpr const char* stroke_vertex = R"(#version 330 core
layout(location = 0) in vec3 from;
layout(location = 1) in vec3 to;
layout(location = 2) in vec4 tint;
layout(location = 3) in vec3 pen;  // width, drawn, left out
uniform mat4 view, projection;
uniform vec2 size;
uniform float near_m, pull;
out vec4 colour;
noperspective out float across;
noperspective out float along;
flat out vec3 dash;  // half width, drawn, left out
void main() {
  vec3 a = (view * vec4(from, 1.0)).xyz * pull;
  vec3 b = (view * vec4(to, 1.0)).xyz * pull;
  if (a.z > -near_m && b.z < -near_m) a = mix(b, a, (-near_m - b.z) / (a.z - b.z));
  if (b.z > -near_m && a.z < -near_m) b = mix(a, b, (-near_m - a.z) / (b.z - a.z));
  vec4 pa = projection * vec4(a, 1.0);
  vec4 pb = projection * vec4(b, 1.0);
  vec2 sa = pa.xy / pa.w * size * 0.5;
  vec2 sb = pb.xy / pb.w * size * 0.5;
  float reach = length(sb - sa);
  vec2 way = reach > 1e-4 ? (sb - sa) / reach : vec2(1.0, 0.0);
  vec2 side = vec2(-way.y, way.x);
  float half_width = pen.x * 0.5;
  float cap = half_width * 0.8;
  float hand = (gl_VertexID & 1) == 0 ? -1.0 : 1.0;
  bool first = gl_VertexID < 2;
  vec2 offset = side * hand * (half_width + 1.0) + way * (first ? -cap : cap);
  vec4 p = first ? pa : pb;
  gl_Position = vec4(p.xy + offset / (size * 0.5) * p.w, p.zw);
  across = hand * (half_width + 1.0);
  along = first ? -cap : reach + cap;
  dash = vec3(half_width, pen.yz);
  colour = tint;
}
)";

inline constexpr const char* stroke_fragment = R"(#version 330 core
in vec4 colour;
noperspective in float across;
noperspective in float along;
flat in vec3 dash;
out vec4 paint;
void main() {
  float cover = clamp(dash.x + 0.5 - abs(across), 0.0, 1.0);
  float period = dash.y + dash.z;
  if (dash.z > 0.0) {
    float t = mod(along, period);
    cover *= clamp(min(t, dash.y - t) + 0.5, 0.0, 1.0);
  }
  if (cover <= 0.004) discard;
  paint = vec4(colour.rgb, colour.a * cover);
}
)";

}  // namespace ridgeward::draw::shaders
