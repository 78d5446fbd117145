"""From tables to charts; no Streamlit."""
