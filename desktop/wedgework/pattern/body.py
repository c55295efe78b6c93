"""Measurements of a body that the program knows, by name, and what each one is.

Words after ISO 8559-1 (trunk circumference is our torso loop); source of the list: ISO 8559:1989
as printed in Gupta and Zakaria (eds), Anthropometry, Apparel Sizing and Design, table 4.1.
"""

from __future__ import annotations

from typing import Final

MEASURES: Final[dict[str, str]] = {
    "head_girth_mm": "round the head, over the brow",
    "neck_girth_mm": "round the neck at the larynx",
    "neck_base_girth_mm": "round the foot of the neck",
    "shoulder_girth_mm": "round both shoulders and arms",
    "bust_girth_mm": "round the bust at its fullest",
    "under_bust_girth_mm": "round the ribs under the bust",
    "waist_girth_mm": "round the natural waist",
    "hip_girth_mm": "round the hips at their fullest",
    "thigh_girth_mm": "round the thigh at its fullest",
    "knee_girth_mm": "round the knee",
    "calf_girth_mm": "round the calf at its fullest",
    "ankle_girth_mm": "round the ankle",
    "foot_girth_mm": "round heel and instep",
    "upper_arm_girth_mm": "round the upper arm at its fullest",
    "elbow_girth_mm": "round the bent elbow",
    "wrist_girth_mm": "round the wrist",
    "hand_girth_mm": "round the hand with the thumb laid in",
    "armscye_girth_mm": "round the arm where it meets the shoulder",
    "bust_front_mm": "front arc of the bust girth, side to side",
    "bust_back_mm": "back arc of the bust girth, side to side",
    "under_bust_front_mm": "front arc of the under-bust girth, side to side",
    "under_bust_back_mm": "back arc of the under-bust girth, side to side",
    "waist_front_mm": "front arc of the waist girth, side to side",
    "waist_back_mm": "back arc of the waist girth, side to side",
    "hip_front_mm": "front arc of the hip girth, side to side",
    "hip_back_mm": "back arc of the hip girth, side to side",
    "bust_point_distance_mm": "from one bust point to the other",
    "neck_to_bust_point_mm": "from the foot of the neck at its side to the bust point",
    "shoulder_length_mm": "from the foot of the neck to the shoulder's end",
    "scye_depth_mm": "from the nape down to the level of the armpits",
    "back_waist_length_mm": "from the nape down to the waist",
    "front_waist_length_mm": "from the foot of the neck over the bust point to the waist",
    "waist_to_hip_mm": "from the waist down to the hip level, at the side",
    "body_rise_mm": "from the waist down to the seat, sitting",
    "torso_loop_mm": "from the shoulder over the bust, through the crotch, up the back",
    "inside_leg_mm": "from the crotch down to the floor",
    "arm_length_mm": "from the shoulder's end over the bent elbow to the wrist",
    "stature_mm": "height, standing",
}
