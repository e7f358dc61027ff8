"""What a maker works with: sheets, paper and scoring boards, and the tables behind their names."""
